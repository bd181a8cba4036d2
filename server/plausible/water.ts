import { frictionFactor } from '../physics/friction.ts'
import { darcyLoss, meanVelocity, minorLoss, reynoldsNumber } from '../physics/pipe.ts'
import { toSi } from '../wire/units.ts'
import { type Check, type Facts, isOutside, NO_DOUBT, percent, rough } from './doubt.ts'

const G = 9.81
/** ν of water at 10 °C, IAPWS. */
const VISCOSITY = 1.306e-6
const DAY = 86_400
/** Mean velocity in pipes at the rated flow; designs have 1 to 5 m/s (common practice, no source). */
const VELOCITY = [0.15, 12] as const

/** Pipes and the flow through them. */
export const checkVelocities: Check = ({ of, words, doubt }) =>
  [
    ['penstock.bore', 'turbine.ratedDischarge'],
    ['turbine.inletBore', 'turbine.ratedDischarge'],
    ['pump.inletBore', 'pump.ratedDischarge'],
    ['pump.outletBore', 'pump.ratedDischarge'],
  ].flatMap(([bore, flow]) => {
    const velocity = meanVelocity(of(flow!), of(bore!))
    if (!isOutside(velocity, VELOCITY)) return []
    const fits = [1000, 0.001, 0.0254, 1 / 0.0254, 10, 0.1].some(
      (factor) => !isOutside(velocity * factor ** 2, [0.5, 6]),
    )
    return doubt(
      bore!,
      `a bore in which ${words(flow!)} run at 0.5 to 6 m/s; in this one they run at ${rough(velocity)} m/s${fits ? ' (another unit: mm, cm, m?)' : ''}`,
    )
  })

/** Friction of the penstock: its wall, its length and what it takes of the head. */
export const checkPenstock: Check = (facts) => {
  const { of, words, doubt, plant } = facts
  const [bore, length, roughness] = [of('penstock.bore'), of('penstock.length'), of('penstock.roughness')]
  const head = of('turbine.ratedNetHead')
  if (roughness > 0.05 * bore)
    return doubt('penstock.roughness', `at most a twentieth of the bore, ${words('penstock.bore')} (mm?)`)
  if (plant.pump === undefined && length < 0.8 * head)
    return doubt('penstock.length', `at least the head, ${words('turbine.ratedNetHead')}`)
  const velocity = meanVelocity(of('turbine.ratedDischarge'), bore)
  const factor = frictionFactor(reynoldsNumber(velocity, bore, VISCOSITY), roughness / bore)
  const lost = darcyLoss(factor, length, bore, velocity, G) + minorLoss(of('penstock.minorLoss'), velocity, G)
  if (!(lost > head)) return NO_DOUBT
  return doubt(
    'penstock.bore',
    `a pipe that takes less than the machine: at ${words('turbine.ratedDischarge')} this one takes ${rough(lost)} m, beside a net head of ${words('turbine.ratedNetHead')} (units of bore, length or roughness?)`,
  )
}

/** Heights, all over one zero: headwater above the machine, gauge and tailwater beside it. */
export const checkElevations: Check = (facts) => {
  const { of } = facts
  const head = of('turbine.ratedNetHead')
  const turbine = of('site.elevations.turbine')
  const gauge = of('site.elevations.inletGauge')
  if (Math.abs(gauge - turbine) > Math.max(5, 0.3 * head))
    return facts.doubt(
      'site.elevations.inletGauge',
      `about ${facts.words('site.elevations.turbine')}, where the turbine is (heights over one zero, gauge beside the machine)`,
    )
  return [...tailwaterDoubts(facts), ...headwaterDoubts(facts)]
}

function tailwaterDoubts(facts: Facts): ReturnType<Check> {
  const { of, words, doubt } = facts
  const [low, high] = surfaceOf(facts, 'tailwaterLevel', 'site.elevations.tailwaterZero')
  const turbine = of('site.elevations.turbine')
  // Deeper below a runner than the air presses, 10 m, water hangs at no draft tube.
  if (!(turbine - high! > 10 || low! - turbine > 15)) return NO_DOUBT
  return doubt(
    'site.elevations.tailwaterZero',
    `a height that puts the tailwater near the turbine, ${words('site.elevations.turbine')}; the gauge shows ${rough(low!)} to ${rough(high!)} m (heights over one zero?)`,
  )
}

function headwaterDoubts(facts: Facts): ReturnType<Check> {
  const { of, words, doubt, plant } = facts
  const [low, high] = surfaceOf(facts, 'headwaterLevel', 'site.elevations.headwaterZero')
  const tail = surfaceOf(facts, 'tailwaterLevel', 'site.elevations.tailwaterZero')
  const isFree = plant.turbine && ['pelton', 'turgo', 'crossflow'].includes(plant.turbine.kind)
  const below = isFree && !plant.turbine?.draftTube ? of('site.elevations.turbine') : tail[0]!
  const net = of('turbine.ratedNetHead')
  if (high! < below)
    return doubt(
      'site.elevations.headwaterZero',
      `a height above the machine or its tailwater, ${rough(below)} m: the gross head would be negative (headwater and tailwater exchanged, or not over one zero?)`,
    )
  if (high! - below < 0.97 * net)
    return doubt(
      'site.elevations.headwaterZero',
      `a height that leaves a gross head above the rated net head, ${words('turbine.ratedNetHead')}; it would be ${rough(high! - below)} m at most`,
    )
  if (!(low! - below > 2 * net + 5)) return NO_DOUBT
  return doubt(
    'site.elevations.headwaterZero',
    `a height that goes with the rated net head, ${words('turbine.ratedNetHead')}; the gross head would be ${rough(low! - below)} m and more (heights over one zero?)`,
  )
}

/** Lowest and highest water surface [m] that a level instrument can show; NaN without one, or without its range. */
function surfaceOf({ plant, of }: Facts, role: string, zero: string): [number, number] {
  const instrument = plant.instruments.find((one) => one.quantity === role)
  const [low, high] = instrument?.range ?? [Number.NaN, Number.NaN]
  const si = (level: number) => (instrument ? toSi(level, instrument.unit) : Number.NaN) + of(zero)
  return [si(low), si(high)]
}

/** What the licence allows against what the machine takes, and its volumes against its flow. */
export const checkLicence: Check = ({ of, words, doubt }) => {
  const [rated, flow] = [of('turbine.ratedDischarge'), of('licence.maximumDischarge')]
  const [day, year] = [of('licence.dailyVolume'), of('licence.annualVolume')]
  const most = Number.isNaN(flow) ? rated : flow
  return [
    ...(isOutside(flow / rated, [0.1, 20])
      ? doubt(
          'licence.maximumDischarge',
          `an amount beside the rated discharge of ${words('turbine.ratedDischarge')} (L/s or m3/s?)`,
        )
      : []),
    ...(isOutside(day / (most * DAY), [0.02, 2])
      ? doubt('licence.dailyVolume', `a part of ${rough(most * DAY)} m3, which run in a day (m3 or L?)`)
      : []),
    ...(isOutside(year / (Number.isNaN(day) ? most * DAY : day), [5, 400])
      ? doubt('licence.annualVolume', 'up to 366 times the volume of a day (m3 or L?)')
      : []),
  ]
}

/** Plate of the orifice: ISO 5167-2 has bores of a tenth to three quarters of the pipe (from memory). */
export const checkOrifice: Check = ({ of, words, doubt }) => {
  const share = of('orifice.bore') / of('orifice.pipeBore')
  if (!isOutside(share, [0.1, 0.75])) return NO_DOUBT
  return doubt(
    'orifice.bore',
    `10 to 75 % of the bore of its pipe, ${words('orifice.pipeBore')}; it is ${percent(share)} (ISO 5167-2; outside of it the coefficient is not known)`,
  )
}
