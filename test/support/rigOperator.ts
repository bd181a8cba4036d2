import type { Move } from './recordedTrial.ts'

/** What a person at the simulated rig does for each trial: [open jets, head in m]. */
const jets = (count: number) =>
  Object.fromEntries([1, 2, 3, 4].map((jet) => [`jet-${jet}`, jet <= count] as const))

/** Long enough for the head to settle and for a whole steady window after it. */
const WAIT = 40

const CURRENT_STEPS = [
  [1, 16],
  [1, 24],
  [2, 20],
  [2, 24],
  [3, 21],
  [3, 24],
  [4, 22],
  [4, 24],
  [4, 26],
  [4, 28],
] as const

export const generatorMoves: Move[] = CURRENT_STEPS.map(([count, head]) => ({
  settings: { ...jets(count), head },
  seconds: WAIT,
}))

/** Up and down again. */
export const efficiencyMoves: Move[] = [1, 2, 3, 4, 4, 3, 2, 1].map((count, i) => ({
  settings: { ...jets(count), head: 24 },
  seconds: WAIT,
  ...(i < 4 ? {} : { repeats: true as const }),
}))

export const generatorInstruments = [
  'frequency',
  ...[1, 2, 3].flatMap((phase) => [`phase-voltage-${phase}`, `phase-current-${phase}`]),
  ...[1, 2, 3, 4].map((jet) => `jet-${jet}-open`),
]

export const efficiencyInstruments = [
  'discharge',
  'manifold-pressure',
  'speed',
  'torque',
  ...[1, 2, 3, 4].map((jet) => `jet-${jet}-open`),
]
