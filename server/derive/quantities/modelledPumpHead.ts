import type { Quantity } from '../quantity.ts'

export const modelledPumpHead: Quantity = {
  id: 'modelledPumpHead',
  name: 'Pump head by its curve',
  symbol: 'H_pm',
  unit: 'm',
  view: 'm',
  group: 'pump',
  ways: [
    {
      formula: 's^2 * H_r * headCurve(Q / (s * Q_r))',
      inputs: { s: 'pumpSpeed', Q: 'discharge' },
      constants: { H_r: 'pump.ratedHead', Q_r: 'pump.ratedDischarge' },
      curves: { headCurve: 'pump.headCurve' },
      applies: (plant) => plant.pump !== undefined,
      valid: [{ test: 's > 0.2', otherwise: 'pump speed is below 20 %' }],
      source: 'curve of the plant file with the affinity laws, Q ∝ n and H ∝ n²',
    },
  ],
}
