import type { Plant } from '../plant/plant.ts'

/**
 * What is assumed of a constant whose ± the plant file does not state. Ratings, counts, limits of a licence and set
 * levels are what they are called: they have none.
 */
export interface AssumedError {
  /** Half-width in the SI unit. */
  fixed?: number
  /** Half-width as a share of the value. */
  share?: number
  /** Half-width as a share of one less the value: of the losses behind an efficiency. */
  ofLoss?: number
  /** Limits that are never passed, or a 95 % interval. Default: limits. */
  isNormal?: true
  /** For people, e.g. "ISO 5167-2". */
  source: string
}

const PRACTICE = 'common practice, no source'

const practice = (limits: Pick<AssumedError, 'fixed' | 'share'>): AssumedError => ({
  ...limits,
  source: PRACTICE,
})
const share = (part: number) => practice({ share: part })
const fixed = (half: number) => practice({ fixed: half })

/** Levelled or measured with a tape. */
const HEIGHT = fixed(0.01)
const GAUGE_ZERO = fixed(0.02)
const PIPE = share(0.005)

type Rule = AssumedError | ((value: number, plant: Plant) => AssumedError | undefined)

export const ASSUMED: Readonly<Record<string, Rule>> = {
  'site.gravity': { fixed: 0.002, source: `written with two or three decimals: ${PRACTICE}` },
  'site.waterDensity': share(0.0005),
  'site.waterTemperature': fixed(5),
  'site.elevations.turbine': HEIGHT,
  'site.elevations.inletGauge': HEIGHT,
  'site.elevations.pumpGauge': HEIGHT,
  'site.elevations.headwaterZero': GAUGE_ZERO,
  'site.elevations.tailwaterZero': GAUGE_ZERO,
  // What nobody reads rises and falls with the river.
  'site.elevations.tailwater': fixed(0.2),
  'turbine.draftTubeArea': share(0.02),
  'turbine.pitchDiameter': share(0.002),
  'turbine.nozzleBore': share(0.003),
  'turbine.nozzleCoefficient': share(0.02),
  'turbine.nozzleCurve': share(0.02),
  'turbine.velocityCoefficient': share(0.01),
  'turbine.inletBore': PIPE,
  'turbine.driveRatio': (ratio) => (ratio === 1 ? undefined : share(0.005)),
  'turbine.driveEfficiency': (ratio) => (ratio === 1 ? undefined : fixed(0.01)),
  'turbine.efficiencyCurve': fixed(0.02),
  'generator.inertia': share(0.1),
  'generator.voltageConstant': share(0.03),
  'generator.windingResistance': share(0.05),
  'generator.windingInductance': share(0.1),
  'generator.loadPowerFactor': (factor) => (factor === 1 ? undefined : fixed(0.02)),
  'generator.efficiencyCurve': (_, { generator }) => {
    const isLarge = (generator?.ratedPower ?? 0) > 150_000
    return { ofLoss: isLarge ? 0.1 : 0.15, source: 'tolerance on losses, IEC 60034-1 (from memory)' }
  },
  'inverter.efficiencyCurve': fixed(0.01),
  'penstock.bore': share(0.01),
  'penstock.length': share(0.01),
  'penstock.roughness': share(0.5),
  'penstock.minorLoss': share(0.2),
  'penstock.waveSpeed': share(0.1),
  'penstock.closingTime': share(0.1),
  'weir.crestHeight': fixed(0.005),
  'weir.crestWidth': fixed(0.001),
  'weir.channelWidth': fixed(0.005),
  'weir.notchAngle': fixed((0.2 * Math.PI) / 180),
  'weir.calibrationFactor': (_, { weir }) => ({
    share: weir?.notchAngle === undefined ? 0.015 : 0.01,
    isNormal: true,
    source: 'uncertainty of the coefficient in ISO 1438 (from memory; for h/p up to 1)',
  }),
  'orifice.bore': { share: 0.0007, isNormal: true, source: 'ISO 5167-1 (from memory)' },
  'orifice.pipeBore': { share: 0.004, isNormal: true, source: 'ISO 5167-1 (from memory)' },
  'orifice.calibrationFactor': (_, { orifice }) =>
    orifice && {
      share: orificeUncertainty(orifice.bore / orifice.pipeBore, orifice.pipeBore),
      isNormal: true,
      source: 'uncertainty of the coefficient in ISO 5167-2:2003, 5.3.3.1',
    },
  'venturi.throat': { share: 0.0007, isNormal: true, source: 'ISO 5167-1 (from memory)' },
  'venturi.pipeBore': { share: 0.004, isNormal: true, source: 'ISO 5167-1 (from memory)' },
  'venturi.calibrationFactor': (_, { venturi }) =>
    venturi && {
      share: { machined: 0.01, asCast: 0.007, welded: 0.015 }[venturi.convergent],
      isNormal: true,
      source: 'uncertainty of the coefficient in ISO 5167-4 (from memory)',
    },
  'indexTaps.discharge': share(0.02),
  'indexTaps.pressureDifference': share(0.01),
  'indexTaps.exponent': { fixed: 0.02, source: 'IEC 60041: exponents of 0.48 to 0.52 are met (from memory)' },
  'spillway.coefficient': share(0.1),
  'spillway.width': share(0.01),
  'spillway.crest': HEIGHT,
  'forebay.area': share(0.05),
  'forebay.volumeCurve': share(0.05),
  'residualOutlet.area': share(0.02),
  'residualOutlet.coefficient': share(0.05),
  'residualOutlet.centre': HEIGHT,
  'pump.headCurve': { share: 0.05, source: 'tolerance on head, ISO 9906 grade 2B (from memory)' },
  'pump.gaugeRise': HEIGHT,
  'pump.inletBore': PIPE,
  'pump.outletBore': PIPE,
  'battery.ratedCharge': share(0.1),
  'battery.ratedVoltage': share(0.03),
  'battery.chargeEfficiency': (ratio) => (ratio === 1 ? undefined : fixed(0.02)),
  'charger.efficiency': (ratio) => (ratio === 1 ? undefined : fixed(0.02)),
  'charger.rectifierEfficiency': fixed(0.01),
  'charger.diodeDrop': fixed(0.2),
}

/** Undefined for what is exact. @param value In SI; of a curve 0. */
export function assumedError(path: string, value: number, plant: Plant): AssumedError | undefined {
  const rule = Object.hasOwn(ASSUMED, path) ? ASSUMED[path] : undefined
  return typeof rule === 'function' ? rule(value, plant) : rule
}

/**
 * Relative uncertainty of an orifice coefficient, 95 %:  0.7 − β below 0.2, 0.5 to β = 0.6, 1.667β − 0.5 above [%];
 * plus 0.9(0.75 − β)(2.8 − D/25.4 mm) in pipes below 71.12 mm.
 *
 * @param beta d/D [–].
 * @param pipeBore D [m].
 * @returns Share of C [–].
 *
 * Limits: 0.1 ≤ β ≤ 0.75; below Re_D = 10,000 with β above 0.5 another 0.5 % would come on top.
 * Source: ISO 5167-2:2003, 5.3.3.1.
 */
export function orificeUncertainty(beta: number, pipeBore: number): number {
  const byBeta = beta < 0.2 ? 0.7 - beta : beta <= 0.6 ? 0.5 : 1.667 * beta - 0.5
  const small = pipeBore < 0.07112 ? 0.9 * (0.75 - beta) * (2.8 - pipeBore / 0.0254) : 0
  return (byBeta + small) / 100
}
