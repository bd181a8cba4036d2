import { GRID } from '../plants.ts'
import type { NastyRow } from '../row.ts'

const OVER_SPEED = `
alarms:
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }
`
const STOPPED = {
  pressure: 1.9,
  flow: 0,
  tacho: 0,
  power: 0,
  grid: 0,
  'current-1': 0,
  'current-2': 0,
  'current-3': 0,
}

/** Speed, torque and what the machine does. */
export const machine: readonly NastyRow[] = [
  {
    when: 'the machine stops as every day',
    plant: GRID,
    steps: [{ seconds: 40, is: STOPPED }],
    says: {
      figures: {
        activePower: { quality: 'good', value: 0 },
        discharge: { quality: 'good', value: 0 },
        hydraulicPower: { quality: 'good', value: 0 },
        waterToWireEfficiency: { quality: 'uncertain', value: null },
      },
      state: 'stopped',
      counters: { waterVolume: { gap: 0 }, energyGenerated: { gap: 0 } },
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
