import type { Quantity } from '../quantity.ts'

export const meterFlow: Quantity = {
  id: 'meterFlow',
  name: 'Flow by the differential pressure meter',
  symbol: 'Q_m',
  unit: 'm3/s',
  view: 'L/s',
  group: 'water',
  ways: [
    {
      formula: 'orificeCornerTaps(dp, d, D, rho, nu * rho)',
      inputs: { dp: 'meterPressureDifference', rho: 'waterDensity', nu: 'kinematicViscosity' },
      constants: { d: 'orifice.bore', D: 'orifice.pipeBore' },
      valid: [{ test: 'dp > 0', otherwise: 'no differential pressure' }],
      source: 'ISO 5167-2, Reader-Harris/Gallagher, corner taps, water (ε = 1)',
    },
  ],
}
