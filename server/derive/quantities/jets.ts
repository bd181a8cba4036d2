import {
  aboveShare,
  awayFromZero,
  type FigureRecord,
  hasJets,
  isFlowMeasured,
  isMeasured,
  spearsOf,
} from '../quantity.ts'

const MOST_JETS = 8

/** One figure for each jet, told while it runs alone: only then is the discharge that of its nozzle. */
const jetHealth: readonly FigureRecord[] = Array.from({ length: MOST_JETS }, (_, i) => {
  const jet = i + 1
  return {
    id: `jetHealth.${jet}`,
    name: `Jet ${jet} over a clean nozzle`,
    symbol: `q_${jet}`,
    unit: '1',
    view: '%',
    group: 'condition',
    steady: ['water'],
    formula: 'Q / Q_n',
    inputs: { Q: 'discharge', Q_n: 'nozzleFlow', N: 'openJets', j: `jetOpen.${jet}`, H_n: 'netHead' },
    applies: (plant) => hasJets(plant) && isFlowMeasured(plant) && isMeasured(plant, `jetOpen.${jet}`),
    valid: [
      { test: 'N == 1 and j == 1', otherwise: `jet ${jet} does not run alone` },
      aboveShare(0.1, { H_n: 'net head' }, 'turbine.ratedNetHead'),
    ],
    source:
      'nozzle law Q = Cd·A·√(2gH); below 95 % look, below 85 % something blocks it (common practice, no source)',
  }
})

/** Nozzles and jets of impulse machines. */
export const jets: readonly FigureRecord[] = [
  {
    id: 'openJets',
    name: 'Jets open',
    symbol: 'N',
    unit: '1',
    group: 'machine',
    formula: 'sum(j)',
    inputs: { j: 'jetOpen.*' },
    source: 'count of open jets',
  },
  {
    id: 'nozzleCoefficient',
    name: 'Discharge coefficient of the open nozzles together',
    symbol: 'C_N',
    unit: '1',
    group: 'machine',
    background: true,
    ways: [
      {
        formula: 'N * C_d',
        inputs: { N: 'openJets' },
        constants: { C_d: 'turbine.nozzleCoefficient' },
        applies: (plant) => hasJets(plant) && plant.turbine?.nozzleCurve === undefined,
        source: 'open jets times the coefficient of one nozzle, referred to its bore',
      },
      {
        formula: 'sum(nozzle(s))',
        inputs: { s: 'needleStroke.*' },
        curves: { nozzle: 'turbine.nozzleCurve' },
        // Of a jet whose spear nobody measures nothing is known.
        applies: (plant) => hasJets(plant) && spearsOf(plant) === plant.turbine?.jets,
        source: 'coefficients of the spears, each by its opening from the table of the plant file',
      },
    ],
  },
  {
    id: 'nozzleFlow',
    name: 'Discharge of clean nozzles at this head',
    symbol: 'Q_n',
    unit: 'm3/s',
    view: 'L/s',
    group: 'machine',
    background: true,
    formula: 'C * idealJetFlow(d, H_n, g)',
    inputs: { C: 'nozzleCoefficient', H_n: 'netHead', g: 'gravity' },
    constants: { d: 'turbine.nozzleBore' },
    valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
    source: 'nozzle law Q = Cd·A·√(2gH) for each open jet',
  },
  {
    id: 'jetFlow',
    name: 'Discharge per open jet',
    symbol: 'Q_j',
    unit: 'm3/s',
    view: 'L/s',
    group: 'machine',
    formula: 'Q / N',
    inputs: { Q: 'discharge', N: 'openJets' },
    applies: hasJets,
    valid: [{ test: 'N > 0', otherwise: 'no jet is open' }],
    source: 'definition',
  },
  {
    id: 'nozzleHealth',
    name: 'Discharge over that of clean nozzles',
    symbol: 'q_j',
    unit: '1',
    view: '%',
    group: 'condition',
    steady: ['water'],
    formula: 'Q / Q_n',
    inputs: { Q: 'discharge', Q_n: 'nozzleFlow', H_n: 'netHead' },
    // A discharge that comes from the nozzle law cannot check the nozzles.
    applies: (plant) => hasJets(plant) && isFlowMeasured(plant),
    valid: [
      { test: 'Q_n > 0', otherwise: 'no jet is open' },
      aboveShare(0.1, { H_n: 'net head' }, 'turbine.ratedNetHead'),
    ],
    source:
      'nozzle law Q = Cd·A·√(2gH); below 95 % look, below 85 % something blocks a nozzle (common practice, no source)',
  },
  ...jetHealth,
  {
    id: 'jetVelocity',
    name: 'Jet velocity',
    symbol: 'c_1',
    unit: 'm/s',
    group: 'machine',
    background: true,
    formula: 'jetVelocity(C_v, H_n, g)',
    inputs: { H_n: 'netHead', g: 'gravity' },
    constants: { C_v: 'turbine.velocityCoefficient' },
    applies: hasJets,
    source: 'c = Cv·√(2gH)',
  },
  {
    id: 'speedRatio',
    name: 'Speed ratio u over jet velocity',
    symbol: 'k_u',
    unit: '1',
    group: 'machine',
    background: true,
    formula: 'bucketSpeed(omega, D) / c_1',
    inputs: { omega: 'turbineSpeed', c_1: 'jetVelocity', H_n: 'netHead' },
    constants: { D: 'turbine.pitchDiameter' },
    applies: hasJets,
    valid: [
      aboveShare(0.1, { H_n: 'net head' }, 'turbine.ratedNetHead'),
      { test: 'c_1 > 0', otherwise: 'no jet' },
    ],
    source: 'k_u = u/c₁, referred to the jet velocity (not to √(2gH))',
  },
  {
    id: 'headSpeedRatio',
    name: 'Speed ratio u over √(2gH)',
    symbol: 'φ',
    unit: '1',
    group: 'machine',
    background: true,
    formula: 'bucketSpeed(omega, D) / sqrt(2 * g * H_n)',
    inputs: { omega: 'turbineSpeed', H_n: 'netHead', g: 'gravity' },
    constants: { D: 'turbine.pitchDiameter' },
    valid: awayFromZero(0.1, { H_n: ['net head', 'no net head'] }, 'turbine.ratedNetHead'),
    source: 'φ = u/√(2gH), referred to the head (not to the jet velocity): k_u = φ/Cv',
  },
]
