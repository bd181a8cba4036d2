import type { Quantity } from '../quantity.ts'

export const spillFlow: Quantity = {
  id: 'spillFlow',
  name: 'Flow over the spillway',
  symbol: 'Q_s',
  unit: 'm3/s',
  view: 'L/s',
  group: 'water',
  ways: [
    {
      formula: 'Q_w',
      inputs: { Q_w: 'weirFlow' },
      applies: (plant) => plant.weir?.measures === 'spillFlow',
      source: 'the measuring weir',
    },
    {
      formula: 'broadCrestedWeir(C, max(z, z_c) - z_c, b)',
      inputs: { z: 'pondLevel' },
      constants: { C: 'spillway.coefficient', z_c: 'spillway.crest', b: 'spillway.width' },
      applies: (plant) => plant.spillway !== undefined,
      estimated: 'weir law with the coefficient of the plant file; a spillway is not a calibrated weir',
      source: 'Q = C·b·h^1.5, C about 1.7 for a broad and 1.85 for a sharp crest (trade practice, no source)',
    },
  ],
}
