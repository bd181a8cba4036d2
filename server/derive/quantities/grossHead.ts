import { isImpulse, isReaction, type Quantity } from '../quantity.ts'

export const grossHead: Quantity = {
  id: 'grossHead',
  name: 'Gross head',
  symbol: 'H_g',
  unit: 'm',
  view: 'm',
  group: 'head',
  ways: [
    {
      formula: '(z_hw + z_0) - z_t',
      inputs: { z_hw: 'headwaterLevel' },
      constants: { z_0: 'site.elevations.headwaterZero', z_t: 'site.elevations.turbine' },
      applies: isImpulse,
      source: 'IEC 60041: an impulse machine is referred to the jet, not to the tailwater',
    },
    {
      formula: '(z_hw + z_0) - (z_tw + z_1)',
      inputs: { z_hw: 'headwaterLevel', z_tw: 'tailwaterLevel' },
      constants: { z_0: 'site.elevations.headwaterZero', z_1: 'site.elevations.tailwaterZero' },
      applies: isReaction,
      source: 'IEC 60041',
    },
  ],
}
