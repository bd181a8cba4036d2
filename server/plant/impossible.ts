import { plain } from '../wire/numbers.ts'
import { fromSi, unitOf } from '../wire/units.ts'
import { constantUnit } from './constants.ts'
import type { PlantFault } from './plant.ts'
import type { InstrumentFile, PlantFile } from './schema.ts'

/** What no plant on earth has. It is refused; what is only odd is a doubt (server/plausible/). */

interface Bound {
  low: number
  high: number
  /** After "expected", with the likely slip. */
  expected: string
}

const SHARE: Bound = {
  low: 0,
  high: 1,
  expected: 'a share from 0 to 1, such as 0.62 or "62 %" (62 by itself is 6200 %)',
}

/** Nozzles are worn, and a bore is written in round numbers: a little above 1 is odd, not impossible. */
const COEFFICIENT: Bound = {
  low: 0,
  high: 1.2,
  expected: 'a discharge coefficient of at most 1, such as 0.94 or "94 %" (94 by itself is 9400 %)',
}

const BOUNDS: Readonly<Record<string, Bound>> = {
  'site.latitude': {
    low: -Math.PI / 2,
    high: Math.PI / 2,
    expected: 'a latitude from -90 deg to 90 deg (degrees have the unit "deg", not "rad")',
  },
  // WGS 84: 9.780 m/s² at the equator, 9.832 m/s² at the poles, 0.003 m/s² less for each 1000 m of height; some count with 10
  'site.gravity': {
    low: 9,
    high: 11,
    expected: 'a gravity between 9.76 m/s2 and 9.84 m/s2 (981 would be cm/s2)',
  },
  // IAPWS-95: 958 kg/m³ at 100 °C, 1000 at 4 °C; sea water 1028
  'site.waterDensity': {
    low: 900,
    high: 1100,
    expected: 'a density of water, about 1000 kg/m3 (1 would be g/cm3)',
  },
  'site.waterTemperature': {
    low: 272.15,
    high: 373.15,
    expected: 'a temperature of liquid water: 20 degrees are "20 Cel", not "20 K"',
  },
  'weir.notchAngle': {
    low: 0,
    high: Math.PI,
    expected: 'an angle below 180 deg (degrees have the unit "deg", not "rad")',
  },
  'turbine.velocityCoefficient': SHARE,
  'turbine.driveEfficiency': SHARE,
  'generator.loadPowerFactor': SHARE,
  'battery.chargeEfficiency': SHARE,
  'battery.startCharge': SHARE,
  'charger.efficiency': SHARE,
  'charger.rectifierEfficiency': SHARE,
  'turbine.nozzleCoefficient': COEFFICIENT,
  'residualOutlet.coefficient': COEFFICIENT,
}

/** Places and temperatures may lie below their zero; whatever else a plant file gives is a size. */
const MAY_BE_NEGATIVE = /^site\.|\.(?:crest|lowestLevel|centre|gaugeRise)$/

/** Everything in a plant file that cannot be so. */
export function findImpossible(file: PlantFile, constants: ReadonlyMap<string, number>): PlantFault[] {
  return [
    ...[...constants].flatMap(([path, value]) => outOfBounds(path, value)),
    ...curveFaults(file),
    ...boreFaults(file),
    ...file.instruments.flatMap((one, i) => accuracyFaults(one, `instruments[${i}].accuracy`)),
  ]
}

function outOfBounds(path: string, value: number): PlantFault[] {
  const bound = Object.hasOwn(BOUNDS, path) ? BOUNDS[path]! : undefined
  const received = amountWords(path, value)
  if (bound)
    return value < bound.low || value > bound.high ? [{ path, received, expected: bound.expected }] : []
  if (value >= 0 || MAY_BE_NEGATIVE.test(path)) return []
  return [{ path, received, expected: 'an amount that is not negative' }]
}

function curveFaults({ turbine, generator, inverter }: PlantFile): PlantFault[] {
  const curves = [
    { path: 'turbine.efficiencyCurve', points: turbine?.efficiencyCurve, bound: SHARE },
    { path: 'generator.efficiencyCurve', points: generator?.efficiencyCurve, bound: SHARE },
    { path: 'inverter.efficiencyCurve', points: inverter?.efficiencyCurve, bound: SHARE },
    { path: 'turbine.nozzleCurve', points: turbine?.nozzleCurve, bound: COEFFICIENT },
  ]
  return curves.flatMap(({ path, points = [], bound }) => {
    const wrong = points.findIndex(([, y]) => y < bound.low || y > bound.high)
    if (wrong < 0) return []
    return [{ path: `${path}[${wrong}]`, received: plain(points[wrong]![1]), expected: bound.expected }]
  })
}

function boreFaults({ orifice, venturi }: PlantFile): PlantFault[] {
  const meters = [
    { narrow: 'orifice.bore', wide: 'orifice.pipeBore', from: orifice?.bore, to: orifice?.pipeBore },
    { narrow: 'venturi.throat', wide: 'venturi.pipeBore', from: venturi?.throat, to: venturi?.pipeBore },
  ]
  return meters.flatMap(({ narrow, wide, from = 0, to = 1 }) =>
    from < to
      ? []
      : [
          {
            path: narrow,
            received: amountWords(narrow, from),
            expected: `a bore smaller than that of its pipe, ${amountWords(wide, to)}`,
          },
        ],
  )
}

function accuracyFaults({ accuracy }: InstrumentFile, place: string): PlantFault[] {
  return (['reading', 'span'] as const).flatMap((field) => {
    const share = accuracy?.[field] ?? 0
    if (share >= 0 && share <= 1) return []
    return [
      {
        path: `${place}.${field}`,
        received: `${plain(100 * share)} %`,
        expected: 'limits of error of at most 100 %, such as 0.005 or "0.5 %"',
      },
    ]
  })
}

/** Units that people write a size in, by the SI unit, where another one is usual. */
function usualUnit(path: string, si: number): string {
  const unit = constantUnit(path)
  const size = Math.abs(si)
  switch (unit) {
    case 'rad/s':
      return '/min'
    case 'rad':
      return 'deg'
    case 'K':
      return 'Cel'
    case 'C':
      return 'A.h'
    case 'V.s/rad':
      return 'mV/{rpm}'
    case 'm':
      return size < 0.1 && size > 0 && !path.startsWith('site.') ? 'mm' : 'm'
    case 'm3/s':
      return size < 0.2 ? 'L/s' : unit
    case 'W':
      return size >= 10_000 ? 'kW' : unit
    default:
      return unit
  }
}

/** A number of the plant file as people write it: "1500 /min", "7.5 mm", "4". */
export function amountWords(path: string, si: number): string {
  const code = usualUnit(path, si)
  const text = plain(fromSi(si, unitOf(code)), 4)
  return code === '1' ? text : `${text} ${code}`
}
