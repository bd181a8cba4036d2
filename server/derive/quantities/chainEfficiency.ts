import type { Quantity } from '../quantity.ts'

export const chainEfficiency: Quantity = {
  id: 'chainEfficiency',
  name: 'Efficiency from the pump to the loads',
  symbol: 'η_ch',
  unit: '1',
  view: '%',
  group: 'efficiency',
  steady: ['rotor', 'water'],
  ways: [
    {
      formula: 'P_o / P_m',
      inputs: { P_o: 'inverterOutputPower', P_m: 'pumpInputPower' },
      valid: [{ test: 'P_m > 0', otherwise: 'the pump does not run' }],
      possible: { low: 0, high: 1, suspects: 'pump input or inverter output' },
      source: 'definition',
    },
  ],
}
