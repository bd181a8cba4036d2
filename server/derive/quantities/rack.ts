import { aboveShare, type Quantity } from '../quantity.ts'

/** The trash rack. */
export const rack: readonly Quantity[] = [
  {
    id: 'rackDifferential',
    name: 'Trash-rack differential',
    symbol: 'Δh_r',
    unit: 'm',
    group: 'water',
    ways: [
      {
        formula: 'z_up - z_hw',
        inputs: { z_up: 'rackUpstreamLevel', z_hw: 'headwaterLevel' },
        source: 'definition: level before less level after the rack, read on one datum',
      },
    ],
  },
  {
    id: 'rackCoefficient',
    name: 'Rack differential over discharge squared',
    symbol: 'K_r',
    unit: 's2/m5',
    group: 'condition',
    steady: ['water'],
    ways: [
      {
        formula: 'dh / Q^2',
        inputs: { dh: 'rackDifferential', Q: 'discharge' },
        valid: [
          aboveShare(0.2, { Q: 'discharge' }, { Q_r: 'turbine.ratedDischarge' }),
          { test: 'Q > 0', otherwise: 'no discharge' },
        ],
        source: 'Δh = K·Q²: tells a dirty rack from much water (common practice, no source)',
      },
    ],
  },
]
