import { type Default, type FigureRecord, hasJets, type ValidityFloor, type Way } from '../quantity.ts'

const BEST_POINT = {
  s: 'turbine.bestShare',
  Q_r: 'turbine.ratedDischarge',
  H_r: 'turbine.ratedNetHead',
} as const

const RATED_IS_BEST: Readonly<Record<string, Default>> = {
  s: {
    value: 1,
    unit: '1',
    says: 'turbine.bestShare is not given: the rated discharge is taken as the best',
  },
}

const ABOVE_ZERO: ValidityFloor = { test: 'H_n > 0', otherwise: 'no net head' }

/**
 * A number that is defined at the best point alone: within 10 % of its discharge and its speed at this head (common
 * practice, no source), and blank elsewhere.
 */
function specific(
  figure: Pick<Way, 'formula' | 'inputs' | 'source'> & Required<Pick<Way, 'applies'>> & SpecificName,
): FigureRecord {
  const byPower = 'P_s' in figure.inputs
  return {
    ...figure,
    unit: '1',
    group: 'machine',
    background: true,
    inputs: { omega: 'turbineSpeed', H_n: 'netHead', r_b: 'bestPointShare', ...figure.inputs },
    ...(byPower ? { constants: { eta_d: 'turbine.driveEfficiency' } } : {}),
    valid: [
      ABOVE_ZERO,
      {
        test: 'abs(r_b - 1) <= 0.1',
        otherwise: 'the discharge is not within 10 % of that of the best point',
      },
      {
        test: 'abs(omega / n_r * sqrt(H_r / H_n) - 1) <= 0.1',
        constants: { n_r: 'turbine.ratedSpeed', H_r: 'turbine.ratedNetHead' },
        otherwise: 'the speed is not within 10 % of that of the best point',
      },
      ...(byPower ? [{ test: 'P_s > 0', otherwise: 'no shaft power' }] : []),
    ],
  }
}

interface SpecificName {
  id: string
  name: string
  symbol: string
}

/** Numbers by which machines of all sizes are compared. */
export const machineNumbers: readonly FigureRecord[] = [
  {
    id: 'unitSpeed',
    name: 'Unit speed',
    symbol: 'n_11',
    unit: '1',
    group: 'machine',
    background: true,
    formula: 'unitSpeed(omega, D, H_n)',
    inputs: { omega: 'turbineSpeed', H_n: 'netHead' },
    constants: { D: 'turbine.pitchDiameter' },
    valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
    source: 'n11 = n·D/√H, n in min⁻¹',
  },
  {
    id: 'unitDischarge',
    name: 'Unit discharge',
    symbol: 'Q_11',
    unit: '1',
    group: 'machine',
    background: true,
    formula: 'unitDischarge(Q, D, H_n)',
    inputs: { Q: 'discharge', H_n: 'netHead' },
    constants: { D: 'turbine.pitchDiameter' },
    valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
    source: 'Q11 = Q/(D²·√H)',
  },
  {
    id: 'unitPower',
    name: 'Unit power',
    symbol: 'P_11',
    unit: '1',
    group: 'machine',
    background: true,
    formula: 'unitPower(P_s / eta_d, D, H_n)',
    inputs: { P_s: 'shaftPower', H_n: 'netHead' },
    constants: { D: 'turbine.pitchDiameter', eta_d: 'turbine.driveEfficiency' },
    valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
    source: 'P11 = P/(D²·H^1.5), P in kW at the turbine shaft',
  },
  {
    id: 'bestPointShare',
    name: 'Discharge over that of the best point at this head',
    symbol: 'r_b',
    unit: '1',
    view: '%',
    group: 'machine',
    background: true,
    ways: [
      {
        formula: 'Q / N / (s * Q_r / z_0) * sqrt(H_r / H_n)',
        inputs: { Q: 'discharge', H_n: 'netHead', N: 'openJets' },
        constants: { ...BEST_POINT, z_0: 'turbine.jets' },
        defaults: RATED_IS_BEST,
        applies: hasJets,
        valid: [{ test: 'N > 0', otherwise: 'no jet is open' }, ABOVE_ZERO],
        source: 'similarity: Q/√H over that of the best point, for each open jet',
      },
      {
        formula: 'Q / (s * Q_r) * sqrt(H_r / H_n)',
        inputs: { Q: 'discharge', H_n: 'netHead' },
        constants: BEST_POINT,
        defaults: RATED_IS_BEST,
        applies: (plant) => !hasJets(plant) || plant.turbine?.jets === 1,
        valid: [ABOVE_ZERO],
        source: 'similarity: Q/√H over that of the best point',
      },
    ],
  },
  specific({
    id: 'specificSpeed',
    name: 'Specific speed of the whole machine',
    symbol: 'n_q',
    formula: 'specificSpeed(omega, Q, H_n)',
    inputs: { Q: 'discharge' },
    applies: (plant) => !hasJets(plant) || plant.turbine?.jets === 1,
    source: 'n_q = n·√Q/H^0.75 at the best point, n in min⁻¹',
  }),
  specific({
    id: 'jetSpecificSpeed',
    name: 'Specific speed of one jet',
    symbol: 'n_qj',
    formula: 'specificSpeed(omega, Q / N, H_n)',
    inputs: { Q: 'discharge', N: 'openJets' },
    applies: hasJets,
    source: 'n_q = n·√Q/H^0.75 of one of the open jets at the best point, n in min⁻¹',
  }),
  specific({
    id: 'powerSpecificSpeed',
    name: 'Specific speed of the whole machine by power',
    symbol: 'n_s',
    formula: 'specificSpeedByPower(omega, P_s / eta_d, H_n)',
    inputs: { P_s: 'shaftPower' },
    applies: (plant) => !hasJets(plant) || plant.turbine?.jets === 1,
    source: 'n_s = n·√P/H^1.25 at the best point, n in min⁻¹, P in kW at the turbine shaft',
  }),
  specific({
    id: 'jetPowerSpecificSpeed',
    name: 'Specific speed of one jet by power',
    symbol: 'n_sj',
    formula: 'specificSpeedByPower(omega, P_s / eta_d / N, H_n)',
    inputs: { P_s: 'shaftPower', N: 'openJets' },
    applies: hasJets,
    source:
      'n_s = n·√P/H^1.25 of one of the open jets at the best point, n in min⁻¹, P in kW at the turbine shaft',
  }),
]
