import type { Plant } from '../plant/plant.ts'
import { ratedOf } from './describe.ts'
import type { FigureLookupById } from './lookup.ts'
import { witnessesOf } from './witnesses.ts'

/** What the instruments say of the turning of the shaft. */
export interface ShaftSaying {
  /** Share of rated speed by whoever says most; NaN where nobody can say. */
  share: number
  /** The plant has something that should tell the speed. */
  isWatched: boolean
  /** Two that should say the same, where they do not, e.g. "the tachometer says 0 % of rated speed, the frequency 100 %". */
  conflict: string | undefined
}

/** Two instruments on one shaft may differ by this share of rated speed while it changes (common practice, no source). */
const APART = 0.1

interface Teller {
  figure: string
  name: string
  shareOf(value: number): number
}

/**
 * Speed of the shaft by all that tell it. The voltage is none of them: it says too little under load. The frequency of
 * a machine on the public grid may be that of the grid while the shaft stands still, so it is none there either.
 */
export function createShaft(plant: Plant, figures: FigureLookupById): () => ShaftSaying {
  const tellers = tellersOf(plant).filter(({ figure }) => figures.has(figure))
  return () => {
    let share = Number.NaN
    let least: { name: string; share: number } | undefined
    let most: { name: string; share: number } | undefined
    for (const { figure, name, shareOf } of tellers) {
      const said = { name, share: shareOf(figures.value(figure)) }
      if (Number.isNaN(said.share)) continue
      if (!least || said.share < least.share) least = said
      if (!most || said.share > most.share) most = said
      share = most.share
    }
    const isApart = least !== undefined && most !== undefined && most.share - least.share > APART
    return {
      share,
      isWatched: tellers.length > 0,
      conflict: isApart
        ? `${least!.name} says ${percent(least!.share)} of rated speed, ${most!.name} ${percent(most!.share)}`
        : undefined,
    }
  }
}

function tellersOf(plant: Plant): Teller[] {
  const rated = ratedSpeedOf(plant)
  const ratedRunner = ratedOf('turbineSpeed', plant)
  const isOnGrid = plant.use === 'gridTied'
  const measured = witnessesOf(plant)
    .filter(({ name, quantity }) => name !== 'the voltage' && quantity !== 'turbineSpeed')
    .filter(({ quantity }) => !(isOnGrid && quantity === 'frequency'))
    .map(({ quantity, name, toSpeed }) => ({
      figure: quantity,
      name,
      shareOf: (value: number) => toSpeed(value) / rated,
    }))
  const runner = {
    figure: 'turbineSpeed',
    name: 'the tachometer of the turbine',
    shareOf: (value: number) => value / (ratedRunner ?? Number.NaN),
  }
  const isRunnerMeasured = plant.instruments.some((one) => one.quantity === 'turbineSpeed')
  return isRunnerMeasured ? [...measured, runner] : measured
}

/** [rad/s]; by the plate, or 2π·f/p of a machine without slip. NaN where the plant file gives neither. */
function ratedSpeedOf(plant: Plant): number {
  const { ratedFrequency, polePairs, kind } = plant.generator ?? {}
  const stated = ratedOf('speed', plant)
  if (stated !== undefined) return stated
  const hasSlip = kind === 'induction' || kind === 'directCurrent'
  if (hasSlip || ratedFrequency === undefined || polePairs === undefined) return Number.NaN
  return (2 * Math.PI * ratedFrequency) / polePairs
}

/** "103 %"; a share that would round to nothing keeps its digits. */
export function percent(share: number): string {
  const whole = Math.round(100 * share)
  return `${whole !== 0 || share === 0 ? whole : Number((100 * share).toPrecision(1))} %`
}
