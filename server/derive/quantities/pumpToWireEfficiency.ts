import type { Quantity } from '../quantity.ts'

export const pumpToWireEfficiency: Quantity = {
  id: 'pumpToWireEfficiency',
  name: 'Pump-to-wire efficiency',
  symbol: 'η_pw',
  unit: '1',
  view: '%',
  group: 'efficiency',
  steady: ['rotor', 'water'],
  ways: [
    {
      formula: 'P / P_m',
      inputs: { P: 'activePower', P_m: 'pumpInputPower' },
      valid: [{ test: 'P_m > 0', otherwise: 'the pump does not run' }],
      possible: { low: 0, high: 1, suspects: 'pump input or generator power' },
      source: 'definition; at equal pump speed and discharge it compares ways to throttle',
    },
  ],
}
