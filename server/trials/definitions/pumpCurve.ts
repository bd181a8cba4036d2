import { pumpTheory } from '../theory/theories.ts'
import type { PointTrial } from '../trial.ts'

export const pumpCurve: PointTrial = {
  id: 'pumpCurve',
  takes: 'points',
  name: 'Pump: head over discharge',
  aim: 'How the head of the pump falls with discharge, and that one curve serves every speed.',
  abscissa: 'discharge',
  ordinate: 'pumpHead',
  hold: [],
  by: () => 'jets or a valve, at two or three pump speeds',
  suggest: { reference: 'pump.ratedDischarge', shares: () => [0.25, 0.5, 0.75, 1] },
  record: ['pumpSpeed', 'pumpOutletPressure', 'pumpInputPower', 'pumpHydraulicPower'],
  steady: { discharge: 0.015, pumpHead: 0.01, pumpSpeed: 0.005 },
  fits: [{ model: 'pumpCurve', symbols: { s: 'pumpSpeed' } }],
  theory: pumpTheory,
  cautions: [
    {
      signal: 'WARNING',
      text: 'A pump that runs long against a shut valve heats the water that it cannot move.',
    },
  ],
  method: [
    'Let the pump run at full speed and open one jet after the other.',
    'Lower the speed and do the same again.',
    'Wait at each step for the point to store itself.',
  ],
  checks: [
    { id: 'falls', text: 'The head falls ever faster with discharge.' },
    { id: 'oneCurve', text: 'Points of all speeds lie on one curve of the form given.' },
    { id: 'namePlate', text: 'The head without discharge agrees with the name plate.' },
  ],
}
