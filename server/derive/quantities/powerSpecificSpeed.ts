import { hasJets, type Quantity } from '../quantity.ts'

export const powerSpecificSpeed: Quantity = {
  id: 'powerSpecificSpeed',
  name: 'Specific speed by power',
  symbol: 'n_s',
  unit: '1',
  view: '1',
  group: 'machine',
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
}
