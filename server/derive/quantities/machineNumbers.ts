import { hasJets, type Quantity } from '../quantity.ts'

/** Numbers by which machines of all sizes are compared. */
export const machineNumbers: readonly Quantity[] = [
  {
    id: 'unitSpeed',
    name: 'Unit speed',
    symbol: 'n_11',
    unit: '1',
    group: 'machine',
    background: true,
    ways: [
      {
        formula: 'unitSpeed(omega, D, H_n)',
        inputs: { omega: 'turbineSpeed', H_n: 'netHead' },
        constants: { D: 'turbine.pitchDiameter' },
        valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
        source: 'n11 = n·D/√H, n in min⁻¹',
      },
    ],
  },
  {
    id: 'unitDischarge',
    name: 'Unit discharge',
    symbol: 'Q_11',
    unit: '1',
    group: 'machine',
    background: true,
    ways: [
      {
        formula: 'unitDischarge(Q, D, H_n)',
        inputs: { Q: 'discharge', H_n: 'netHead' },
        constants: { D: 'turbine.pitchDiameter' },
        valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
        source: 'Q11 = Q/(D²·√H)',
      },
    ],
  },
  {
    id: 'unitPower',
    name: 'Unit power',
    symbol: 'P_11',
    unit: '1',
    group: 'machine',
    background: true,
    ways: [
      {
        formula: 'unitPower(P_s / eta_d, D, H_n)',
        inputs: { P_s: 'shaftPower', H_n: 'netHead' },
        constants: { D: 'turbine.pitchDiameter', eta_d: 'turbine.driveEfficiency' },
        valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
        source: 'P11 = P/(D²·H^1.5), P in kW at the turbine shaft',
      },
    ],
  },
  {
    id: 'specificSpeed',
    name: 'Specific speed',
    symbol: 'n_q',
    unit: '1',
    group: 'machine',
    background: true,
    ways: [
      {
        formula: 'specificSpeed(omega, Q / N, H_n)',
        inputs: { omega: 'turbineSpeed', Q: 'discharge', N: 'openJets', H_n: 'netHead' },
        applies: hasJets,
        valid: [
          { test: 'N > 0', otherwise: 'no jet is open' },
          { test: 'H_n > 0', otherwise: 'no net head' },
        ],
        source: 'n_q = n·√Q/H^0.75 per jet, n in min⁻¹',
      },
      {
        formula: 'specificSpeed(omega, Q, H_n)',
        inputs: { omega: 'turbineSpeed', Q: 'discharge', H_n: 'netHead' },
        valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
        source: 'n_q = n·√Q/H^0.75, n in min⁻¹',
      },
    ],
  },
  {
    id: 'powerSpecificSpeed',
    name: 'Specific speed by power',
    symbol: 'n_s',
    unit: '1',
    group: 'machine',
    background: true,
    ways: [
      {
        formula: 'specificSpeedByPower(omega, P_s / eta_d / N, H_n)',
        inputs: { omega: 'turbineSpeed', P_s: 'shaftPower', N: 'openJets', H_n: 'netHead' },
        constants: { eta_d: 'turbine.driveEfficiency' },
        applies: hasJets,
        valid: [
          { test: 'N > 0', otherwise: 'no jet is open' },
          { test: 'H_n > 0', otherwise: 'no net head' },
          { test: 'P_s > 0', otherwise: 'no shaft power' },
        ],
        source: 'n_s = n·√P/H^1.25 per jet, n in min⁻¹, P in kW',
      },
      {
        formula: 'specificSpeedByPower(omega, P_s / eta_d, H_n)',
        inputs: { omega: 'turbineSpeed', P_s: 'shaftPower', H_n: 'netHead' },
        constants: { eta_d: 'turbine.driveEfficiency' },
        valid: [
          { test: 'H_n > 0', otherwise: 'no net head' },
          { test: 'P_s > 0', otherwise: 'no shaft power' },
        ],
        source: 'n_s = n·√P/H^1.25, n in min⁻¹, P in kW',
      },
    ],
  },
]
