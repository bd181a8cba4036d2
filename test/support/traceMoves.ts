import type { Move } from './recordedTrial.ts'

/** What an operator does for the trials that record traces, besides the run-down (rigOperator.ts). */

const onlyOneJet = { 'jet-1': true, 'jet-2': false, 'jet-3': false, 'jet-4': false }

/** At the off-grid plant: the mill (4 kW) and the village (7 kW) on and off; the battery inverter stays out of it. */
export const loadStepMoves: Move[] = [
  { settings: { battery: false, demand: 7 }, seconds: 40 },
  ...[1, 2].flatMap((): Move[] => [
    { settings: { mill: true }, seconds: 20 },
    { settings: { mill: false }, seconds: 20 },
  ]),
  { settings: { village: false }, seconds: 20 },
  { settings: { village: true }, seconds: 20 },
]

export const loadStepInstruments = [
  'speed',
  'frequency',
  'village-power',
  'dump-power',
  'village-connected',
  'mill-on',
]

/** At the rig: discharge by the heater and lamps without water, then charge with four jets until it is about back. */
export const balanceMoves = (charging: number): Move[] => [
  { settings: { ...onlyOneJet, 'jet-1': false, lamps: 4, heater: true }, seconds: 600 },
  {
    settings: { 'jet-1': true, 'jet-2': true, 'jet-3': true, 'jet-4': true, lamps: 0, heater: false },
    seconds: charging,
  },
]

export const balanceInstruments = ['battery-voltage', 'battery-current', 'state-of-charge']

/** At the rig: one jet at 16 m, then the charge controller is taken off. */
export const rejectionMoves: Move[] = [
  { settings: { ...onlyOneJet, head: 16, 'speed-set': 1400 }, seconds: 30 },
  ...[1, 2, 3].flatMap((): Move[] => [
    { settings: { charger: false }, seconds: 14 },
    { settings: { charger: true }, seconds: 30 },
  ]),
]

export const rejectionInstruments = [
  'speed',
  'frequency',
  'active-power',
  ...[1, 2, 3].map((phase) => `phase-current-${phase}`),
  'jet-1-open',
  'brake-tripped',
]
