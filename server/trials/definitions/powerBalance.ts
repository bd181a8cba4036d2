import type { Stage } from '../balance/balanceTable.ts'
import { balanceCloses } from '../checks/curveChecks.ts'
import { belowOne, repeatsAgree } from '../checks/pointChecks.ts'
import type { PointTrial } from '../trial.ts'
import { efficiencyDischarge } from './efficiencyDischarge.ts'

/** In the order in which the power passes them. */
const CHAIN: readonly [id: string, name: string, from: string, to: string | null, residual: string | null][] =
  [
    ['pumpSet', 'Pump, drive and pipe', 'pumpInputPower', 'hydraulicPower', null],
    ['turbine', 'Nozzles and runner', 'hydraulicPower', 'shaftPower', 'turbineResidual'],
    ['generator', 'Generator', 'shaftPower', 'activePower', 'generatorResidual'],
    ['rectifier', 'Rectifier', 'activePower', 'rectifierPower', 'rectifierResidual'],
    ['charger', 'Charger to the bus', 'rectifierPower', null, 'busResidual'],
    ['inverter', 'Inverter', 'inverterInputPower', 'inverterOutputPower', 'inverterResidual'],
  ]
const STAGES = CHAIN.map(([id, name, from, out, residual]): Stage => {
  return { id, name, in: from, out, loss: `${id}Loss`, residual }
})

export const powerBalance: PointTrial = {
  id: 'powerBalance',
  takes: 'points',
  name: 'Power balance of the whole chain',
  aim: 'Where the power goes from the pump to the loads, what each stage loses, and whether the losses are those that the curves of the plant file let expect.',
  abscissa: 'activePower',
  ordinate: 'pumpToWireEfficiency',
  hold: efficiencyDischarge.hold,
  by: () => 'opening and closing jets, with the same loads switched on',
  suggest: { reference: 'generator.ratedPower', shares: () => [0.45, 0.75, 1] },
  record: [],
  steady: { netHead: 0.01, discharge: 0.015, speed: 0.005, activePower: 0.015, inverterOutputPower: 0.02 },
  stages: STAGES,
  fits: [{ model: 'smooth' }],
  cautions: [
    ...efficiencyDischarge.cautions,
    {
      signal: 'DANGER',
      text: 'A battery gives very high short-circuit current. Change no wiring; use the switches.',
    },
  ],
  method: [
    'Switch on a fixed set of loads and leave it; set head and speed.',
    'Take a point at each of three loads of the generator, e.g. with two, three and four jets.',
    'Repeat one of them: a balance that closes twice by chance is rare.',
    'Read the table: what is lost where, and which stage does not fit its curve.',
  ],
  checks: [
    {
      id: 'closes',
      text: 'Every stage with a curve closes within its uncertainty.',
      rule: balanceCloses,
    },
    { id: 'belowOne', text: 'No efficiency is above 1.', rule: belowOne },
    { id: 'repeats', text: 'Repeated settings agree within their bars.', rule: repeatsAgree },
    {
      id: 'mostIsLost',
      text: 'Most is lost in the pump set and at the runner; the electrical stages lose little.',
    },
  ],
}
