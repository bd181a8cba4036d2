import { bucketSpeed, idealJetFlow, jetVelocity } from '../physics/turbine.ts'
import { fromSi, unitOf } from '../wire/units.ts'
import { type Check, type Facts, isOutside, kiloSlip, NO_DOUBT, partWords, rough } from './doubt.ts'

const G = 9.81

type TurbineKind = NonNullable<Facts['plant']['turbine']>['kind']

/**
 * Runner speed over the spouting velocity, u/√(2gH), at the rated point. Impulse machines: best at 0.43 to 0.48 (Cobb &
 * Sharp 2013; theory 0.5), crossflow 0.47. Reaction machines by n₁₁ = 84.6·u/√(2gH): Francis 50 to 90, Kaplan and
 * propeller 95 to 220 (common practice, no source). Widened by about a fifth.
 */
const SPEED_RATIO: Readonly<Record<TurbineKind, readonly [number, number]>> = {
  pelton: [0.36, 0.58],
  turgo: [0.36, 0.62],
  crossflow: [0.36, 0.62],
  francis: [0.45, 1.3],
  pumpAsTurbine: [0.45, 1.6],
  kaplan: [0.9, 3.2],
  propeller: [0.9, 3.2],
}

/** Runaway over rated speed: ESHA guide 2004 (from memory), widened by a tenth; pumps as Francis machines, 1.3 and more. */
const RUNAWAY: Readonly<Record<TurbineKind, readonly [number, number]>> = {
  pelton: [1.6, 2.1],
  turgo: [1.6, 2.1],
  crossflow: [1.5, 2.2],
  francis: [1.4, 2.4],
  pumpAsTurbine: [1.2, 2.4],
  kaplan: [1.7, 3.5],
  propeller: [1.6, 3.5],
}

/** f = n·p: pole pairs, speed and frequency of the generator (IEC 60034-1; an induction machine with a slip of at most 10 %). */
export const checkPolePairs: Check = (facts) => {
  const { of, words, doubt, plant } = facts
  const kind = plant.generator?.kind
  const [n, p, f] = [of('generator.ratedSpeed'), of('generator.polePairs'), of('generator.ratedFrequency')]
  if (kind === undefined || kind === 'directCurrent') return NO_DOUBT
  const made = (n * p) / (2 * Math.PI)
  const fits = kind === 'induction' ? ([0.9, 1.1] as const) : ([0.97, 1.03] as const)
  if (isOutside(made / f, fits)) return doubt('generator.polePairs', polePairWords(facts, { made, fits }))
  if (kind !== 'induction' || !(made < f)) return NO_DOUBT
  return doubt(
    'generator.ratedSpeed',
    `a speed above ${rough((60 * f) / p)} /min, at which ${words('generator.polePairs')} pole pairs make ${words('generator.ratedFrequency')}: an induction machine that generates turns faster (the plate of a motor?)`,
  )
}

function polePairWords(
  { of, words }: Facts,
  { made, fits }: { made: number; fits: readonly [number, number] },
): string {
  const [p, f] = [of('generator.polePairs'), of('generator.ratedFrequency')]
  const makes = `${words('generator.ratedSpeed')} and ${p} pole pairs make ${rough(made)} Hz, not ${words('generator.ratedFrequency')}`
  const right = Math.round((p * f) / made)
  if (!isOutside(made / 2 / f, fits)) return `${right}: ${makes} (number of poles in place of pole pairs?)`
  const ratio = of('turbine.driveRatio')
  if (ratio !== 1 && !isOutside((made * ratio) / f, fits))
    return `pole pairs that go with the speed: ${makes} (generator.ratedSpeed is the turbine's?)`
  return `pole pairs that go with speed and frequency: ${makes}`
}

/** The drive between turbine and generator. */
export const checkDrive: Check = ({ of, words, doubt }) => {
  const [fast, slow] = [of('generator.ratedSpeed'), of('turbine.ratedSpeed')]
  const ratio = of('turbine.driveRatio')
  if (!isOutside(fast / slow / ratio, [0.95, 1.05])) return NO_DOUBT
  const turned = isOutside((fast / slow) * ratio, [0.95, 1.05]) ? '' : ' (turned upside down?)'
  return doubt(
    'turbine.driveRatio',
    `${rough(fast / slow)}, as generator (${words('generator.ratedSpeed')}) and turbine (${words('turbine.ratedSpeed')}) turn${turned}`,
  )
}

/** Ratings against the power of the water, ρgQH. */
export const checkPowers: Check = (facts) => {
  const { of } = facts
  const water = 1000 * G * of('turbine.ratedDischarge') * of('turbine.ratedNetHead')
  const shaft = of('turbine.ratedShaftPower')
  const against = (path: string, fits: readonly [number, number], than: { power: number; words: string }) => {
    const ratio = of(path) / than.power
    if (!isOutside(ratio, fits)) return NO_DOUBT
    const [low, high] = fits.map((share) => watts(share * than.power))
    return facts.doubt(path, `${low} to ${high}, since ${than.words}${kiloSlip(ratio, fits)}`)
  }
  const brings = { power: water, words: `${flowAndHead(facts)} bring ${watts(water)}` }
  const ofShaft = against('turbine.ratedShaftPower', [0.25, 0.98], brings)
  if (ofShaft.length > 0) return ofShaft
  const turns = { power: shaft, words: `the turbine gives ${watts(shaft)}` }
  // A generator may well be larger than its turbine.
  return Number.isNaN(shaft)
    ? against('generator.ratedPower', [0.12, 1.6], brings)
    : against('generator.ratedPower', [0.4, 2], turns)
}

function flowAndHead({ words }: Facts): string {
  return `${words('turbine.ratedDischarge')} at ${words('turbine.ratedNetHead')}`
}

export function watts(power: number): string {
  const code = power >= 1e6 ? 'MW' : power >= 10_000 ? 'kW' : 'W'
  return `${rough(fromSi(power, unitOf(code)))} ${code}`
}

/** The runner in the band of its kind. */
export const checkRunnerSpeed: Check = ({ of, words, doubt, plant: { turbine } }) => {
  if (!turbine) return NO_DOUBT
  const head = of('turbine.ratedNetHead')
  const ratio = bucketSpeed(of('turbine.ratedSpeed'), of('turbine.pitchDiameter')) / jetVelocity(1, head, G)
  const fits = SPEED_RATIO[turbine.kind]
  if (!isOutside(ratio, fits)) return NO_DOUBT
  const drive = of('turbine.driveRatio')
  const slips = [
    [2, 'the radius?'],
    [0.5, 'twice the diameter?'],
    [0.001, 'mm read as m?'],
    [1000, 'm read as mm?'],
    [drive === 1 ? Number.NaN : 1 / drive, 'turbine.ratedSpeed is the generator’s?'],
  ] as const
  const slip = slips.find(([factor]) => ratio * factor >= fits[0] && ratio * factor <= fits[1])
  const [low, high] = fits.map((end) => `${rough((end / ratio) * of('turbine.pitchDiameter') * 1000)} mm`)
  return doubt(
    'turbine.pitchDiameter',
    `${low} to ${high} for a ${turbine.kind} runner at ${words('turbine.ratedSpeed')} and ${words('turbine.ratedNetHead')}, or another rated speed: its rim would turn at ${rough(ratio)} of √(2gH)${slip ? ` (${slip[1]})` : ''}`,
  )
}

/** Speeds that turbine and generator have to bear. */
export const checkRunaway: Check = ({ of, words, doubt, plant: { turbine } }) => {
  if (!turbine) return NO_DOUBT
  const [runaway, rated, drive] = [
    of('turbine.runawaySpeed'),
    of('turbine.ratedSpeed'),
    of('turbine.driveRatio'),
  ]
  const [low, high] = RUNAWAY[turbine.kind]
  if (isOutside(runaway / rated, [low, high]))
    return doubt(
      'turbine.runawaySpeed',
      `${low} to ${high} times the rated speed of ${words('turbine.ratedSpeed')} for a ${turbine.kind} machine (at the turbine, not at the generator)`,
    )
  if (!(of('generator.overSpeedCapability') < 0.99 * runaway * drive)) return NO_DOUBT
  return doubt(
    'generator.overSpeedCapability',
    `at least the runaway speed at the generator, ${rough(fromSi(runaway * drive, unitOf('/min')))} /min: a machine that cannot bear it needs a maker's word`,
  )
}

/** Power, voltage and current of the generator: P = m·U·I·cos φ, U from phase to neutral. */
export const checkPlate: Check = ({ of, words, doubt, plant }) => {
  const phases = plant.generator?.kind === 'directCurrent' ? 1 : of('generator.phases')
  const apparent = phases * of('generator.ratedVoltage') * of('generator.ratedCurrent')
  const factor = of('generator.ratedPower') / apparent
  const fits = [0.65, 1.1] as const
  if (!isOutside(factor, fits)) return NO_DOUBT
  const isLine = phases === 3 && !isOutside(factor * Math.sqrt(3), [0.75, 1.05])
  const slip = isLine ? ' (the voltage between phases in place of phase to neutral?)' : kiloSlip(factor, fits)
  return doubt(
    'generator.ratedVoltage',
    `one that goes with ${words('generator.ratedPower')} and ${words('generator.ratedCurrent')}: together they would be a power factor of ${rough(factor)}${slip}`,
  )
}

/** Voltage constant of a magnet machine, one phase RMS, against its rated voltage: some is lost inside. */
export const checkVoltageConstant: Check = ({ of, words, doubt }) => {
  const inside = of('generator.voltageConstant') * of('generator.ratedSpeed')
  const ratio = inside / of('generator.ratedVoltage')
  if (!isOutside(ratio, [0.95, 1.7])) return NO_DOUBT
  const slips = [
    [1 / Math.sqrt(2), 'peak in place of RMS?'],
    [1 / Math.sqrt(3), 'between phases in place of phase to neutral?'],
  ] as const
  const slip = slips.find(([factor]) => !isOutside(ratio * factor, [0.95, 1.7]))
  return doubt(
    'generator.voltageConstant',
    `one that makes a little more than ${words('generator.ratedVoltage')} at ${words('generator.ratedSpeed')}; this makes ${rough(inside)} V${slip ? ` (${slip[1]})` : ''}`,
  )
}

/** T_m = J·ω²/P: what small plants have lies between a tenth of a second and ten (common practice, no source). */
export const checkInertia: Check = ({ of, doubt }) => {
  const power = Number.isNaN(of('turbine.ratedShaftPower'))
    ? of('generator.ratedPower')
    : of('turbine.ratedShaftPower')
  const time = (of('generator.inertia') * of('generator.ratedSpeed') ** 2) / power
  if (!isOutside(time, [0.05, 60])) return NO_DOUBT
  return doubt(
    'generator.inertia',
    `the inertia of all that turns, at the speed of the generator: with this one the set would run up in ${rough(time)} s at full torque (g.cm2 or kg.cm2 in place of kg.m2?)`,
  )
}

/** The nozzles fully open against the rated discharge, and against what is before and behind them. */
export const checkNozzles: Check = (facts) => {
  const { of, words, doubt, plant } = facts
  if (plant.turbine?.kind !== 'pelton' && plant.turbine?.kind !== 'turgo') return NO_DOUBT
  const [bore, jets, pipe] = [of('turbine.nozzleBore'), plant.turbine.jets ?? 1, of('turbine.inletBore')]
  if (jets * bore ** 2 > pipe ** 2)
    return doubt(
      'turbine.nozzleBore',
      `${jets === 1 ? 'a nozzle' : `${jets} nozzles`} narrower than the pipe before, ${words('turbine.inletBore')}`,
    )
  if (bore > of('turbine.pitchDiameter') / 2.5)
    return doubt('turbine.nozzleBore', `one that fits a runner of ${words('turbine.pitchDiameter')}`)
  const full = jets * of('turbine.nozzleCoefficient') * idealJetFlow(bore, of('turbine.ratedNetHead'), G)
  if (!isOutside(full / of('turbine.ratedDischarge'), [0.8, 2])) return NO_DOUBT
  return doubt(
    'turbine.nozzleBore',
    `nozzles that pass ${words('turbine.ratedDischarge')} at ${words('turbine.ratedNetHead')}; these pass ${partWords(full / of('turbine.ratedDischarge'))} (diameter of the jet, number of jets, units?)`,
  )
}
