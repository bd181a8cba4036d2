import type { Amount, FigureRecord, ValidityFloor, Way } from '../quantity.ts'

/** Meters and lines at rest are off by less (common practice, no source). */
const NO_PRESSURE = { value: 100, unit: 'Pa', path: 'what a meter at rest may show' }

const RUNS_BACK: ValidityFloor = {
  test: 'dp > -dp_0',
  otherwise: 'its differential pressure is negative: the water runs back, or its lines are swapped',
  isFault: true,
}

const metres = (value: number, path: string): Amount => ({ value, unit: 'm', path })

/** Limits are those of ISO 5167-2:2003, 5.3.1 (from memory). */
function plate(taps: 'corner' | 'flange' | 'radius', call: string, words: string): Way {
  const flow = `k_m * ${call}(dp, d, D, rho, nu * rho)`
  const [least, said] =
    taps === 'flange'
      ? ['170 * (d / D)^2 * D / mm', '5000 and 170·β²·D, D in mm']
      : ['16000 * (d / D)^2', '5000 and 16,000·β²']
  return {
    formula: `dp > 0 ? ${flow} : 0`,
    inputs: { dp: 'meterPressureDifference', rho: 'waterDensity', nu: 'kinematicViscosity' },
    constants: { d: 'orifice.bore', D: 'orifice.pipeBore', k_m: 'orifice.calibrationFactor' },
    amounts: {
      dp_0: NO_PRESSURE,
      d_1: metres(0.0125, 'least bore, ISO 5167-2'),
      D_1: metres(0.05, 'narrowest pipe, ISO 5167-2'),
      D_2: metres(1, 'widest pipe, ISO 5167-2'),
      ...(taps === 'flange' ? { mm: metres(0.001, 'one millimetre') } : {}),
    },
    applies: (plant) => plant.orifice?.tappings === taps,
    valid: [RUNS_BACK],
    limits: [
      { test: 'd >= d_1', otherwise: 'outside ISO 5167-2: the bore is below 12.5 mm' },
      { test: 'D >= D_1 and D <= D_2', otherwise: 'outside ISO 5167-2: the pipe is not 50 mm to 1 m wide' },
      {
        test: 'd / D >= 0.1 and d / D <= 0.75',
        otherwise: 'outside ISO 5167-2: the bore is not 0.10 to 0.75 of that of the pipe',
      },
      {
        test: `dp <= dp_0 or reynoldsNumber(meanVelocity(${flow}, D), D, nu) >= max(5000, ${least})`,
        otherwise: `outside ISO 5167-2: the Reynolds number of the pipe is below ${said}`,
      },
    ],
    source: `ISO 5167-2, Reader-Harris/Gallagher, ${words}, water (ε = 1)`,
  }
}

interface Tube {
  coefficient: number
  /** Width of the pipe [m], ratio of the bores and Reynolds number of the pipe for which that is known. */
  pipe: readonly [number, number]
  beta: readonly [number, number]
  reynolds: readonly [number, number]
  words: string
}

/** Classical venturi tubes: ISO 5167-4:2003, 5.5 (from memory). */
const TUBES: Record<'machined' | 'asCast' | 'welded', Tube> = {
  machined: {
    coefficient: 0.995,
    pipe: [0.05, 0.25],
    beta: [0.4, 0.75],
    reynolds: [2e5, 1e6],
    words: 'machined convergent',
  },
  asCast: {
    coefficient: 0.984,
    pipe: [0.1, 0.8],
    beta: [0.3, 0.75],
    reynolds: [2e5, 2e6],
    words: 'convergent as cast',
  },
  welded: {
    coefficient: 0.985,
    pipe: [0.2, 1.2],
    beta: [0.4, 0.7],
    reynolds: [2e5, 2e6],
    words: 'convergent welded of sheet',
  },
}

function tube(convergent: keyof typeof TUBES): Way {
  const { coefficient, pipe, beta, reynolds, words } = TUBES[convergent]
  const flow = 'k_m * differentialMeter(C, dp, d, D, rho)'
  return {
    formula: `dp > 0 ? ${flow} : 0`,
    inputs: { dp: 'meterPressureDifference', rho: 'waterDensity', nu: 'kinematicViscosity' },
    constants: { d: 'venturi.throat', D: 'venturi.pipeBore', k_m: 'venturi.calibrationFactor' },
    amounts: {
      dp_0: NO_PRESSURE,
      C: { value: coefficient, unit: '1', path: `coefficient in ISO 5167-4, ${words}` },
      D_1: metres(pipe[0], 'narrowest pipe, ISO 5167-4'),
      D_2: metres(pipe[1], 'widest pipe, ISO 5167-4'),
    },
    applies: (plant) => plant.venturi?.convergent === convergent,
    valid: [RUNS_BACK],
    limits: [
      {
        test: 'D >= D_1 and D <= D_2',
        otherwise: `outside ISO 5167-4: the pipe is not ${pipe[0]} to ${pipe[1]} m wide`,
      },
      {
        test: `d / D >= ${beta[0]} and d / D <= ${beta[1]}`,
        otherwise: `outside ISO 5167-4: the throat is not ${beta[0]} to ${beta[1]} of the bore of the pipe`,
      },
      {
        test: `dp <= dp_0 or (reynoldsNumber(meanVelocity(${flow}, D), D, nu) >= ${reynolds[0]} and reynoldsNumber(meanVelocity(${flow}, D), D, nu) <= ${reynolds[1]})`,
        otherwise: `outside ISO 5167-4: the Reynolds number of the pipe is not ${reynolds[0].toLocaleString('en')} to ${reynolds[1].toLocaleString('en')}`,
      },
    ],
    source: `ISO 5167-4, classical venturi tube, ${words}, water (ε = 1)`,
  }
}

/** Flow that follows from a pressure difference. */
export const flowMeters: readonly FigureRecord[] = [
  {
    id: 'meterFlow',
    name: 'Flow by the differential pressure meter',
    symbol: 'Q_m',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    ways: [
      plate('corner', 'orificeCornerTaps', 'corner taps'),
      plate('flange', 'orificeFlangeTaps', 'flange taps'),
      plate('radius', 'orificeRadiusTaps', 'D and D/2 taps'),
      tube('machined'),
      tube('asCast'),
      tube('welded'),
    ],
  },
  {
    id: 'indexFlow',
    name: 'Index flow of the spiral case',
    symbol: 'Q_i',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    formula: 'dp > 0 ? Q_0 * (dp / dp_1)^n : 0',
    inputs: { dp: 'indexPressureDifference' },
    constants: {
      Q_0: 'indexTaps.discharge',
      dp_1: 'indexTaps.pressureDifference',
      n: 'indexTaps.exponent',
    },
    amounts: { dp_0: NO_PRESSURE },
    valid: [RUNS_BACK],
    limits: [
      {
        test: 'n >= 0.48 and n <= 0.52',
        otherwise: 'outside IEC 60041: the exponent of index taps is 0.48 to 0.52',
      },
      {
        test: 'dp <= dp_0 or (dp >= 0.04 * dp_1 and dp <= 2.25 * dp_1)',
        otherwise:
          'far from the point of the plant file: below a fifth or above one and a half of its discharge',
      },
    ],
    source: 'IEC 60041, Winter–Kennedy: Q = k·Δpⁿ, k from one measured point of the plant file',
  },
]
