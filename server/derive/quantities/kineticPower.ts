import type { Quantity } from '../quantity.ts'

export const kineticPower: Quantity = {
  id: 'kineticPower',
  name: 'Power into the rotor',
  symbol: 'P_k',
  unit: 'W',
  view: 'W',
  group: 'machine',
  ways: [
    {
      formula: 'J * omega * alpha',
      inputs: { omega: 'speed', alpha: 'speedSlope' },
      constants: { J: 'generator.inertia' },
      source: 'mechanics: d(½·J·ω²)/dt = J·ω·dω/dt; while it is large, efficiencies mean nothing',
    },
  ],
}
