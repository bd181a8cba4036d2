import { GRID, MACHINE_WITHOUT_TACHOMETER, RIG } from '../plants.ts'
import type { NastyRow } from '../row.ts'

const OVER_SPEED = `
alarms:
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }
`
const OFF_GRID = { power: 0, grid: 0, 'current-1': 0, 'current-2': 0, 'current-3': 0 }
const STOPPED = { ...OFF_GRID, pressure: 1.883, flow: 0, tacho: 0 }

/** Speed, torque and what the machine does. */
export const machine: readonly NastyRow[] = [
  {
    when: 'the machine stops as every day',
    plant: GRID,
    steps: [{ seconds: 40, is: STOPPED }],
    says: {
      figures: {
        activePower: { quality: 'good', value: 0, within: 0.1 },
        discharge: { quality: 'good', value: 0, within: 0.01 },
        hydraulicPower: { quality: 'good', value: 0, within: 0.5 },
        waterToWireEfficiency: { quality: 'uncertain', value: null },
      },
      bad: [],
      state: 'stopped',
      counters: { waterVolume: { gap: 0 }, energyGenerated: { gap: 0 }, runSeconds: { gap: 0 } },
    },
  },
  {
    when: 'the machine stands still and every meter is a little off zero',
    plant: GRID,
    steps: [{ seconds: 40, is: { ...STOPPED, flow: 0.001, tacho: 0.4, power: -0.02, 'current-1': 0.2 } }],
    says: {
      figures: {
        hydraulicPower: { quality: 'good', value: 0.1981, within: 0.5 },
        turbineEfficiency: { quality: 'uncertain', value: null },
      },
      bad: [],
      state: 'stopped',
      counters: { waterVolume: { gap: 0 }, energyGenerated: { gap: 0 } },
    },
  },
  {
    when: 'the machine turns without load',
    plant: GRID,
    steps: [
      {
        seconds: 40,
        is: {
          flow: 0.05,
          pressure: 1.88,
          tacho: 1005,
          power: 0,
          grid: 0,
          'current-1': 0,
          'current-2': 0,
          'current-3': 0,
        },
      },
    ],
    says: {
      figures: { waterToWireEfficiency: { quality: 'good', value: 0 } },
      bad: [],
      state: 'noLoad',
      sentence: /Turning at 99 % of rated speed without making power/,
      counters: { runSeconds: { gap: 0 }, starts: { counted: 0 } },
    },
  },
  {
    when: 'somebody drives the rig by its generator',
    plant: RIG,
    steps: [{ seconds: 40, is: { pressure: 0, plate: 0, torque: -0.4, power: -80 } }],
    says: {
      figures: {
        shaftPower: { quality: 'good', value: -62.83 },
        turbineEfficiency: { quality: 'uncertain', value: null, reason: /motoring/ },
        generatorEfficiency: { quality: 'uncertain', value: null, reason: /motoring/ },
        generatorLoss: { quality: 'uncertain', value: null, reason: /motoring/ },
        specificEnergy: { quality: 'uncertain', value: null, reason: /motoring/ },
      },
      bad: [],
      state: 'motoring',
      counters: { energyGenerated: { gap: 0 }, runSeconds: { gap: 0 } },
    },
  },
  {
    when: 'the grid is lost at full load',
    plant: GRID,
    more: OVER_SPEED,
    steps: [
      { seconds: 1, is: { ...OFF_GRID, tacho: 1100 } },
      { seconds: 1, is: { tacho: 1400 } },
      { seconds: 20, is: { tacho: 1750 } },
    ],
    says: {
      figures: { activePower: { quality: 'good', value: 0 }, speed: { quality: 'good', value: 1750 } },
      state: 'overSpeed',
      sentence: /Over-speed: 173 % of rated speed/,
      alarms: { over: 'unacknowledged, active' },
      journal: ['over raise'],
      counters: {
        overSpeedEvents: { counted: 1 },
        overSpeedSeconds: { counted: 21 },
        starts: { counted: 0 },
      },
    },
  },
  {
    when: 'the machine stands still and the frequency meter sees the grid',
    plant: MACHINE_WITHOUT_TACHOMETER,
    steps: [{ seconds: 20, is: { power: 0 } }],
    says: {
      figures: { speed: { quality: 'uncertain', reason: /may be that of the grid/ } },
      state: 'unknown',
      sentence: /no instrument tells whether the machine turns/,
      counters: { runSeconds: { gap: 0 } },
    },
  },
  {
    when: 'the tachometer breaks off during over-speed and sends less than nothing',
    plant: GRID,
    more: OVER_SPEED,
    steps: [
      { seconds: 5, is: { tacho: 1200, power: 0, grid: 0 } },
      { seconds: 30, sent: { tacho: '-300' } },
    ],
    says: {
      figures: { speed: { quality: 'bad' } },
      state: 'unknown',
      alarms: { over: 'unacknowledged, active, unknown' },
      journal: ['over raise', 'input-lost-speed raise'],
    },
  },
  {
    when: 'over-speed is beyond the range of the tachometer',
    plant: GRID,
    more: OVER_SPEED,
    steps: [{ seconds: 5, is: { tacho: 3500, power: 0, grid: 0 } }],
    says: {
      figures: { speed: { quality: 'bad', reason: /above range/ } },
      alarms: { over: 'unacknowledged, active' },
      journal: ['over raise', 'input-lost-speed raise'],
    },
  },
]
