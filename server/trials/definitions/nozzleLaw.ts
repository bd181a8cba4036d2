import { hasFixedNozzles } from '../../derive/quantity.ts'
import { constantAgrees, constantWithin } from '../checks/curveChecks.ts'
import { settingsAgree } from '../checks/pointChecks.ts'
import { nozzleTheory } from '../theory/theories.ts'
import type { PointTrial } from '../trial.ts'

export const nozzleLaw: PointTrial = {
  id: 'nozzleLaw',
  takes: 'points',
  name: 'Nozzles: discharge over head',
  aim: 'That the discharge of a jet follows the root of the head, and the discharge coefficient of the nozzles.',
  abscissa: 'netHead',
  ordinate: 'discharge',
  hold: [],
  by: () => 'pump speed or held head, with the same jets open',
  suggest: { reference: 'turbine.ratedNetHead', shares: () => [0.4, 0.55, 0.7, 0.85, 1, 1.15] },
  record: ['inletPressure', 'openJets', 'pumpSpeed'],
  steady: { netHead: 0.01, discharge: 0.015 },
  fits: [
    {
      model: 'nozzleLaw',
      symbols: { N: 'openJets', g: 'gravity' },
      constants: { d: 'turbine.nozzleBore' },
      inBoth: true,
    },
  ],
  theory: nozzleTheory,
  refuse: (plant) =>
    hasFixedNozzles(plant) && plant.constants.has('turbine.nozzleBore')
      ? undefined
      : 'it needs jets from fixed nozzles whose bore is in the plant file',
  cautions: [
    {
      signal: 'WARNING',
      text: 'A jet under pressure injures eyes and skin. Release the pressure before opening any joint.',
    },
  ],
  method: [
    'Open one jet and set the lowest head.',
    'Raise the head step by step; wait for each point to store itself.',
    'Do the same with each of the other jets alone, in this run or in runs of their own.',
  ],
  checks: [
    { id: 'root', text: 'A curve through zero that bends like a root.' },
    {
      id: 'jetsAgree',
      text: 'Jets differ by less than 2 %; more means wear or dirt.',
      rule: settingsAgree(0.02),
    },
    {
      id: 'coefficient',
      text: 'The coefficient is between 0.90 and 0.98.',
      rule: constantWithin({ symbol: 'C_d', low: 0.9, high: 0.98 }),
    },
    {
      id: 'plantFile',
      text: 'It agrees with the plant file.',
      rule: constantAgrees({ symbol: 'C_d', reference: 'turbine.nozzleCoefficient' }),
    },
  ],
}
