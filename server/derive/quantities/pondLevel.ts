import type { Quantity } from '../quantity.ts'

/** The level that spills, is stored and leaves the residual flow: before the rack where that is measured. */
export const pondLevel: Quantity = {
  id: 'pondLevel',
  name: 'Level at the intake',
  symbol: 'z_i',
  unit: 'm',
  view: 'm',
  group: 'water',
  ways: [
    { formula: 'z', inputs: { z: 'rackUpstreamLevel' }, source: 'the level before the rack' },
    { formula: 'z', inputs: { z: 'headwaterLevel' }, source: 'the headwater level' },
  ],
}
