import { isMagnet, type Quantity } from '../quantity.ts'

export const internalEmf: Quantity = {
  id: 'internalEmf',
  name: 'Internal voltage by the terminals',
  symbol: 'E',
  unit: 'V',
  view: 'V',
  group: 'electrical',
  ways: [
    {
      formula: 'sqrt((mean(U) + mean(I) * R)^2 + (mean(I) * z_p * omega * L)^2)',
      inputs: { U: 'phaseVoltage.*', I: 'phaseCurrent.*', omega: 'speed' },
      constants: {
        R: 'generator.windingResistance',
        L: 'generator.windingInductance',
        z_p: 'generator.polePairs',
      },
      applies: isMagnet,
      source: 'phasor diagram at unity power factor, E² = (U + I·R)² + (I·ω·L)², mean of the phases',
    },
  ],
}
