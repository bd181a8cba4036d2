import type { Quantity } from '../quantity.ts'

export const rackDifferential: Quantity = {
  id: 'rackDifferential',
  name: 'Trash-rack differential',
  symbol: 'Δh_r',
  unit: 'm',
  view: 'm',
  group: 'water',
  ways: [
    {
      formula: 'z_up - z_hw',
      inputs: { z_up: 'rackUpstreamLevel', z_hw: 'headwaterLevel' },
      source: 'definition: level before less level after the rack, read on one datum',
    },
  ],
}
