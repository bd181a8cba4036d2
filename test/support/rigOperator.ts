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

const allJets = [1, 2, 3, 4].map((jet) => `jet-${jet}-open`)

const FULL_SPEED = { 'drive-mode': 'fixedSpeed', 'drive-speed': 100 }

/** The other trials of the rig: what is done, and with which instruments. */
export const otherTrials: Record<string, { moves: Move[]; instruments: string[] }> = {
  nozzleLaw: {
    moves: [10, 14, 18, 22, 26].map((head) => ({ settings: { ...jets(1), head }, seconds: WAIT })),
    instruments: ['discharge', 'manifold-pressure', ...allJets],
  },
  pumpCurve: {
    moves: [100, 80].flatMap((speed) =>
      [4, 3, 2, 1].map((count) => ({
        settings: { ...jets(count), 'drive-mode': 'fixedSpeed', 'drive-speed': speed },
        seconds: WAIT,
      })),
    ),
    instruments: ['discharge', 'pump-delivery-pressure', 'pump-speed', 'sump-level', ...allJets],
  },
  inverterEfficiency: {
    moves: [
      { lamps: 1, heater: false },
      { lamps: 2 },
      { lamps: 3 },
      { lamps: 1, heater: true },
      { lamps: 4 },
      { lamps: 4, motor: true },
    ].map((settings) => ({ settings, seconds: WAIT })),
    instruments: [
      'inverter-input-voltage',
      'inverter-input-current',
      'inverter-output-power',
      'lamps-on',
      'heater-on',
      'motor-on',
    ],
  },
  efficiencySpeed: {
    moves: [900, 1050, 1200, 1350, 1500, 1650].map((speed) => ({
      settings: { 'speed-set': speed, head: 24 },
      seconds: WAIT,
    })),
    instruments: efficiencyInstruments,
  },
  torqueSpeed: {
    moves: [850, 970, 1090, 1210, 1330, 1450, 1570, 1690].map((speed) => ({
      settings: { 'speed-set': speed, head: 24 },
      seconds: WAIT,
    })),
    instruments: efficiencyInstruments,
  },
  voltageWithoutLoad: {
    moves: [
      { settings: { ...jets(1), head: 8 }, seconds: 20 },
      ...[8, 9, 10, 11, 12].map((head) => ({ settings: { charger: false, head }, seconds: 60 })),
    ],
    instruments: ['speed', ...generatorInstruments],
  },
  jetsOrThrottling: {
    moves: [
      ...[4, 3, 2, 2, 3, 4].map((count, i) => ({
        settings: { ...jets(count), throttle: 100, ...FULL_SPEED },
        seconds: WAIT,
        ...(i < 3 ? {} : { repeats: true as const }),
      })),
      ...[70, 60, 55, 50, 46, 43].map((throttle) => ({
        settings: { ...jets(4), throttle },
        seconds: WAIT,
      })),
    ],
    instruments: [
      ...efficiencyInstruments,
      'throttle-opening',
      'active-power',
      'pump-input-power',
      'pump-speed',
    ],
  },
  pipeLoss: {
    moves: [
      [1, 24],
      [2, 18],
      [2, 24],
      [3, 18],
      [3, 22],
      [4, 18],
      [4, 21],
      [4, 24],
      [4, 26],
    ].map(([count, head]) => ({ settings: { ...jets(count!), head: head! }, seconds: WAIT })),
    instruments: [
      'discharge',
      'manifold-pressure',
      'pump-delivery-pressure',
      'throttle-opening',
      'pump-speed',
      ...allJets,
    ],
  },
  powerBalance: {
    moves: [4, 3, 2, 3].map((count, i) => ({
      settings: { ...jets(count), head: 24, lamps: 4, heater: true },
      seconds: WAIT,
      ...(i < 3 ? {} : { repeats: true as const }),
    })),
    instruments: [
      ...efficiencyInstruments,
      'active-power',
      'pump-input-power',
      'rectifier-voltage',
      'rectifier-current',
      'battery-voltage',
      'battery-current',
      'dump-voltage',
      'dump-current',
      'inverter-input-voltage',
      'inverter-input-current',
      'inverter-output-power',
    ],
  },
}

/** One jet at low head, without load, until the speed is a little above rated; then the water off, three times. */
export const runDownMoves: Move[] = [
  { settings: { ...jets(1), head: 14 }, seconds: 10 },
  ...[1, 2, 3].flatMap((): Move[] => [
    { settings: { ...jets(1), charger: false, head: 13.2 }, seconds: 60 },
    { settings: jets(0), seconds: 14 },
  ]),
]

export const runDownInstruments = [
  'speed',
  'frequency',
  ...[1, 2, 3].map((phase) => `phase-current-${phase}`),
  ...allJets,
]
