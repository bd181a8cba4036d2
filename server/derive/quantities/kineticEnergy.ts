import type { Quantity } from '../quantity.ts'

export const kineticEnergy: Quantity = {
  id: 'kineticEnergy',
  name: 'Energy in the rotor',
  symbol: 'E_k',
  unit: 'J',
  view: 'J',
  group: 'machine',
  ways: [
    {
      formula: 'J * omega^2 / 2',
      inputs: { omega: 'speed' },
      constants: { J: 'generator.inertia' },
      source: 'mechanics: ½·J·ω², J of all that turns, at the speed of the generator',
    },
  ],
}
