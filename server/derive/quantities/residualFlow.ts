import type { Quantity } from '../quantity.ts'

export const residualFlow: Quantity = {
  id: 'residualFlow',
  name: 'Residual flow',
  symbol: 'Q_res',
  unit: 'm3/s',
  view: 'L/s',
  group: 'water',
  ways: [
    {
      formula: 'Q_w',
      inputs: { Q_w: 'weirFlow' },
      applies: (plant) => plant.weir?.measures === 'residualFlow',
      source: 'the measuring weir',
    },
    {
      formula: 'C_d * a * sqrt(2 * g * (z - z_o))',
      inputs: { z: 'pondLevel', g: 'gravity' },
      constants: {
        C_d: 'residualOutlet.coefficient',
        a: 'residualOutlet.area',
        z_o: 'residualOutlet.centre',
      },
      applies: (plant) => plant.residualOutlet !== undefined,
      valid: [{ test: 'z > z_o', otherwise: 'the level is below the centre of the outlet' }],
      estimated: 'orifice law with the coefficient of the plant file; the outlet is not calibrated',
      source: 'free outflow of an orifice, Q = Cd·a·√(2gh)',
    },
  ],
}
