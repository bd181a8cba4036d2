import { amountWords } from '../plant/impossible.ts'
import { type Check, isOutside } from './doubt.ts'

/** Where a number of the plant file usually lies, with the slip that puts it elsewhere. */
interface Band {
  path: string
  /** SI. */
  usual: readonly [low: number, high: number]
  slip: string
  source: string
}

const PRACTICE = 'common practice, no source'
const PERCENT = 'a percentage is written "94 %" or 0.94'

const BANDS: readonly Band[] = [
  {
    path: 'site.gravity',
    usual: [9.76, 9.84],
    slip: 'leave it out, and it follows latitude and altitude',
    source: 'WGS 84: 9.780 to 9.832 m/s² at sea level',
  },
  {
    path: 'site.waterDensity',
    usual: [990, 1030],
    slip: 'leave it out, and it follows the water temperature',
    source: 'IAPWS-95: 1000 kg/m³ at 4 °C, 992 at 40 °C; sea water to 1028 (from memory)',
  },
  {
    path: 'site.waterTemperature',
    usual: [273.15, 313.15],
    slip: 'is it the temperature of the water, in "Cel"?',
    source: 'Tanaka 2001 holds from 0 to 40 °C',
  },
  { path: 'site.altitude', usual: [-450, 6000], slip: 'metres above the sea', source: PRACTICE },
  {
    path: 'turbine.velocityCoefficient',
    usual: [0.9, 1],
    slip: PERCENT,
    source: 'Cobb & Sharp 2013: 0.96 …',
  },
  {
    path: 'turbine.nozzleCoefficient',
    usual: [0.55, 1],
    slip: `${PERCENT}; it is referred to the bore of the nozzle`,
    source: PRACTICE,
  },
  { path: 'turbine.driveEfficiency', usual: [0.8, 1], slip: PERCENT, source: PRACTICE },
  {
    path: 'turbine.driveRatio',
    usual: [0.3, 20],
    slip: 'speed of the generator over that of the turbine',
    source: PRACTICE,
  },
  { path: 'battery.chargeEfficiency', usual: [0.6, 1], slip: PERCENT, source: PRACTICE },
  { path: 'charger.efficiency', usual: [0.6, 1], slip: PERCENT, source: PRACTICE },
  { path: 'charger.rectifierEfficiency', usual: [0.6, 1], slip: PERCENT, source: PRACTICE },
  {
    path: 'charger.diodeDrop',
    usual: [0, 4],
    slip: 'of the two diodes that carry current at a time, in V',
    source: PRACTICE,
  },
  { path: 'generator.loadPowerFactor', usual: [0.3, 1], slip: PERCENT, source: PRACTICE },
  {
    path: 'residualOutlet.coefficient',
    usual: [0.5, 1],
    slip: `${PERCENT}; 0.6 for a sharp edge`,
    source: PRACTICE,
  },
  {
    path: 'spillway.coefficient',
    usual: [1.3, 2.3],
    slip: 'C in Q = C·b·h^1.5 with metres: 1.7 broad crest, 1.85 sharp',
    source: PRACTICE,
  },
  {
    path: 'weir.notchAngle',
    usual: [(10 * Math.PI) / 180, (170 * Math.PI) / 180],
    slip: 'the full angle of the notch: degrees have the unit "deg"',
    source: 'ISO 1438 has notches of 20° to 100° (from memory)',
  },
  { path: 'penstock.minorLoss', usual: [0, 60], slip: 'ΣK of bends, valves and inlet', source: PRACTICE },
  {
    path: 'penstock.waveSpeed',
    usual: [100, 1510],
    slip: 'no faster than sound in water, about 1450 m/s; 200 to 500 m/s in plastic',
    source: 'IAPWS: 1426 m/s at 5 °C, 1509 m/s at 30 °C',
  },
  {
    path: 'penstock.closingTime',
    usual: [0.05, 600],
    slip: 'seconds, from open to shut',
    source: PRACTICE,
  },
  {
    path: 'generator.ratedVoltage',
    usual: [5, 20_000],
    slip: 'from phase to neutral, in V',
    source: PRACTICE,
  },
  {
    path: 'loads.lowestFrequency',
    usual: [30, 65],
    slip: 'below this the consumers count as not supplied',
    source: PRACTICE,
  },
]

/** Numbers that say by themselves that they can hardly be meant. */
export const checkBands: Check = ({ of, doubt }) =>
  BANDS.flatMap(({ path, usual, slip }) => {
    if (!isOutside(of(path), usual)) return []
    const [low, high] = usual.map((end) => amountWords(path, end))
    return doubt(path, `${low} to ${high}: ${slip}`)
  })

/** Curves over shares of a rated value, of which people write percentages. */
export const checkCurves: Check = ({ plant: { turbine, generator, inverter } }) => {
  const curves = [
    { path: 'turbine.efficiencyCurve', points: turbine?.efficiencyCurve },
    { path: 'generator.efficiencyCurve', points: generator?.efficiencyCurve },
    { path: 'inverter.efficiencyCurve', points: inverter?.efficiencyCurve },
  ]
  return curves.flatMap(({ path, points = [] }) => {
    const last = points.at(-1)?.[0] ?? Number.NaN
    const best = Math.max(...points.map(([, y]) => y))
    return [
      ...(isOutside(last, [0.3, 2])
        ? [
            {
              path,
              received: `points up to ${last}`,
              expected: 'shares of the rated value, up to about 1: half load is 0.5, not 50',
            },
          ]
        : []),
      ...(points.length > 0 && best < 0.2
        ? [
            {
              path,
              received: `at best ${best}`,
              expected: 'efficiencies such as 0.62; 62 % is 0.62, not 0.0062',
            },
          ]
        : []),
    ]
  })
}
