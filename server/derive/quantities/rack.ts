import { awayFromZero, type FigureRecord } from '../quantity.ts'

/** The trash rack. */
export const rack: readonly FigureRecord[] = [
  {
    id: 'rackDifferential',
    name: 'Trash-rack differential',
    symbol: 'Δh_r',
    unit: 'm',
    group: 'water',
    formula: 'z_up - z_hw',
    inputs: { z_up: 'rackUpstreamLevel', z_hw: 'headwaterLevel' },
    source: 'definition: level before less level after the rack, read on one datum',
  },
  {
    id: 'rackCoefficient',
    name: 'Rack differential over discharge squared',
    symbol: 'K_r',
    unit: 's2/m5',
    group: 'condition',
    steady: ['water'],
    formula: 'dh / Q^2',
    inputs: { dh: 'rackDifferential', Q: 'discharge' },
    valid: awayFromZero(0.2, { Q: ['discharge', 'no discharge'] }, 'turbine.ratedDischarge'),
    source: 'Δh = K·Q²: tells a dirty rack from much water (common practice, no source)',
  },
]
