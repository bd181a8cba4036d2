import type { MachineState } from '../wire/plant.ts'
import { fromSi, unitOf } from '../wire/units.ts'
import { percent } from './shaft.ts'
import type { Change } from './trend.ts'

/** What is known of the machine at this moment; NaN for what is not. */
export interface MachineSaying {
  /** Share of rated speed. */
  speed: number
  /** At the terminals [W]. */
  power: number
  /** Hydraulic power [W]. */
  water: number
  /** Discharge that runs back [m³/s]; NaN where none does. */
  back: number
  change: Change
  /** Something should tell the speed. */
  isWatched: boolean
  /** Something should tell the power. */
  hasPower: boolean
  /** What contradicts itself for too long to be a delay. */
  doubt: string | undefined
}

/** The state as one or two sentences for the telephone. */
export function sentenceOf(state: MachineState, saying: MachineSaying): string {
  const said = SENTENCES[state](saying)
  return saying.back > 0
    ? `${said} The discharge reads ${litres(-saying.back)}: water runs back, or the meter is the wrong way round.`
    : said
}

const SENTENCES: Record<MachineState, (saying: MachineSaying) => string> = {
  generating: made,
  motoring: ({ power }) => `${watts(-power)} go into the machine, and it makes nothing.`,
  starting: ({ speed }) => `At ${percent(speed)} of rated speed and rising, without power.`,
  runDown: ({ speed }) => `At ${percent(speed)} of rated speed and falling, without power.`,
  noLoad: ({ speed, change }) =>
    `Turning at ${percent(speed)} of rated speed without making power${change === 'rises' ? ', and speeding up' : ''}.`,
  turning: ({ speed, hasPower }) =>
    `Turning at ${percent(speed)} of rated speed; ${hasPower ? 'the power is not known' : 'no instrument tells the power'}.`,
  stopped: ({ power }) =>
    power < 0 ? `The shaft stands still, and ${watts(-power)} are drawn.` : 'The shaft stands still.',
  overSpeed: ({ speed }) => `Over-speed: ${percent(speed)} of rated speed. Stay clear of the machine.`,
  unknown: unknown,
}

function made({ power, water }: MachineSaying): string {
  const said = `Making ${watts(power)}`
  if (Number.isNaN(water)) return `${said}.`
  return water > power
    ? `${said} from ${watts(water)} of water power.`
    : `${said}, though the water brings ${watts(water)}: check discharge, head and power.`
}

function unknown({ speed, power, water, isWatched, doubt }: MachineSaying): string {
  if (doubt === 'speed and power')
    return `Nobody can say: ${percent(speed)} of rated speed and ${watts(power)} cannot both be. It may be turning fast.`
  if (doubt === 'power and water')
    return `Nobody can say: ${watts(-power)} go in while ${watts(water)} of water power do too: is the power meter the wrong way round?`
  if (doubt !== undefined) return `Nobody can say: ${doubt}. It may be turning fast.`
  if (power < 0 && isWatched)
    return `The speed is not coming in, and ${watts(-power)} go into the machine: it may be motoring, or at rest with its heating on.`
  if (power < 0)
    return `${watts(-power)} go into the machine: it is motoring, or at rest with its heating on; no instrument tells which.`
  if (!isWatched && Number.isNaN(power)) return 'Nobody can say: the power is not coming in.'
  if (!isWatched) return 'No power is being made; no instrument tells whether the machine turns.'
  return Number.isNaN(power)
    ? 'Nobody can say: neither speed nor power is coming in.'
    : 'No power is being made and the speed is not coming in: the machine may be turning fast.'
}

function watts(value: number): string {
  const unit = unitOf(Math.abs(value) >= 10_000 ? 'kW' : 'W')
  return `${Number(fromSi(value, unit).toPrecision(3))} ${unit.print}`
}

function litres(flow: number): string {
  return `${Number((1000 * flow).toPrecision(3))} L/s`.replace('-', '−')
}
