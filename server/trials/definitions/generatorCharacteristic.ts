import { isMagnet } from '../../derive/quantity.ts'
import { constantAgrees } from '../checks/curveChecks.ts'
import { falls, repeatsAgree } from '../checks/pointChecks.ts'
import { generatorTheory } from '../theory/theories.ts'
import type { PointTrial } from '../trial.ts'

export const generatorCharacteristic: PointTrial = {
  id: 'generatorCharacteristic',
  takes: 'points',
  name: 'Generator: voltage over current',
  aim:
    'How far the terminal voltage falls as the load current grows at constant frequency, and from that the constants ' +
    'of the machine: voltage constant, resistance and inductance of a phase.',
  abscissa: 'meanPhaseCurrent',
  ordinate: 'meanPhaseVoltage',
  hold: [
    {
      figure: 'frequency',
      target: ['generator.ratedFrequency'],
      tolerance: 0.01,
      low: 'open a jet, raise the head, or reduce the load',
      high: 'close a jet, lower the head, or add load',
    },
  ],
  by: () => 'load, jets or head',
  suggest: {
    reference: 'generator.ratedCurrent',
    shares: () => [0.1, 0.25, 0.4, 0.55, 0.7, 0.85, 1, 1.15],
  },
  record: ['activePower', 'shaftPower', 'torque', 'generatorEfficiency', 'windingTemperature', 'netHead'],
  steady: { frequency: 0.005, meanPhaseCurrent: 0.015, meanPhaseVoltage: 0.01 },
  fits: [
    {
      model: 'permanentMagnet',
      applies: isMagnet,
      // Not in both variables: current and voltage sway together along the curve, and weighting by that scatter left
      // the truth of L out of its interval in 9 % of 200 seeds, against 5 % with equal weights.
      symbols: { f: 'frequency' },
      constants: { p: 'generator.polePairs' },
    },
    { model: 'smooth' },
  ],
  theory: generatorTheory,
  refuse: (plant) =>
    plant.use === 'gridTied'
      ? 'the grid holds the voltage: there is nothing to see while connected'
      : undefined,
  cautions: [
    {
      signal: 'DANGER',
      text: 'A generator makes voltage whenever its shaft turns, even with the loads off. Change no wiring while it turns.',
    },
    {
      signal: 'WARNING',
      text: 'Losing the load makes the machine run up. Its own over-speed protection must be armed and tested before the run.',
    },
  ],
  method: [
    'Bring the machine to rated frequency with a small load and let it warm up until the winding temperature settles.',
    'Raise the load step by step to about 115 % of rated current; bring the frequency back after each step.',
    'Wait until the state has been steady for a whole window: the point stores itself.',
    'Go back down and repeat two of the points: the difference shows what warming does.',
  ],
  checks: [
    {
      id: 'falls',
      text: 'The voltage falls with current, a little faster at high current.',
      rule: falls(),
    },
    {
      id: 'repeats',
      text: 'Going up and coming down give the same curve; if not, the winding warms up.',
      rule: repeatsAgree,
    },
    {
      id: 'voltageConstant',
      text: 'The curve meets zero current at the voltage without load: k_e is that of the plant file.',
      rule: constantAgrees({ symbol: 'k_e', reference: 'generator.voltageConstant' }),
    },
  ],
}
