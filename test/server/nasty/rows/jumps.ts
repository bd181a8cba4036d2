import { GRID } from '../plants.ts'
import type { NastyRow } from '../row.ts'

const HEAD_HIGH = `
alarms:
  - { id: head, name: Head high, kind: high, figure: netHead, limit: 24 m, priority: low }
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }
`

/** Instruments that scatter within a fifth of their class, each by a wave of its own that repeats itself in no reading. */
const SCATTERING = Object.fromEntries(
  [
    ['power', 88, 0.15, 1.7],
    ['frequency', 50, 0.002, 2.3],
    ['voltage-1', 230.9, 0.2, 2.9],
    ['current-1', 147.7, 0.3, 1.9],
  ].map(([id, value, size, step]) => [
    id as string,
    (now: number) => String(Number(value) + Number(size) * Math.sin((Number(step) * now) / 1000)),
  ]),
)

/** Readings that jump: a spike reaches no figure, a step does, and neither leaves a wide ±. */
export const jumps: readonly NastyRow[] = [
  {
    when: 'one reading of the pressure is 30 % too high',
    plant: GRID,
    more: HEAD_HIGH,
    steps: [{ seconds: 1, sent: { pressure: '2.4046' } }, { seconds: 4 }],
    says: {
      figures: {
        netHead: { quality: 'good', value: 19.993, within: 0.5 },
        waterToWireEfficiency: { quality: 'good', within: 3 },
      },
      bad: [],
      journal: [],
    },
  },
  {
    when: 'one reading of the power is a thousand times too high',
    plant: GRID,
    steps: [{ seconds: 1, sent: { power: '88000' } }, { seconds: 4 }],
    says: {
      figures: { activePower: { quality: 'good', value: 88, within: 1.5 } },
      bad: [],
      counters: { energyGenerated: { counted: 88_000 * 5 } },
    },
  },
  {
    when: 'one reading of the discharge is nothing',
    plant: GRID,
    steps: [{ seconds: 1, sent: { flow: '0' } }, { seconds: 4 }],
    says: {
      figures: { discharge: { quality: 'good', value: 0.62, within: 0.03 } },
      bad: [],
      counters: { waterVolume: { counted: 0.62 * 5 } },
    },
  },
  {
    when: 'one reading of the tachometer is far above over-speed: that alarm hears it all the same',
    plant: GRID,
    more: HEAD_HIGH,
    steps: [{ seconds: 1, sent: { tacho: '1400' } }, { seconds: 4 }],
    says: {
      figures: { speed: { quality: 'good', value: 1012, within: 3 } },
      state: 'generating',
      journal: ['over raise', 'over return'],
      counters: { overSpeedSeconds: { counted: 0 } },
    },
  },
  {
    when: 'the load halves at once',
    plant: GRID,
    steps: [
      {
        seconds: 6,
        is: { power: 44, flow: 0.33, pressure: 1.87, 'current-1': 74, 'current-2': 74, 'current-3': 74 },
      },
    ],
    says: {
      figures: {
        activePower: { quality: 'good', value: 44, within: 1 },
        discharge: { quality: 'good', value: 0.33, within: 0.02 },
        waterToWireEfficiency: { quality: 'good', within: 4 },
      },
      bad: [],
    },
  },
  {
    when: 'the power stands still for half a minute while all beside it scatter on',
    plant: GRID,
    steps: [
      { seconds: 22, sent: SCATTERING },
      { seconds: 32, sent: { ...SCATTERING, power: '88.06' } },
    ],
    says: {
      figures: {
        activePower: {
          quality: 'uncertain',
          value: 88.06,
          reason: /^seems frozen: exactly 88\.\d+ kW for 3\d s, while .* scatter as before/,
        },
        waterToWireEfficiency: { quality: 'uncertain', reason: /active power: seems frozen/ },
        frequency: { quality: 'good' },
        netHead: { quality: 'good' },
      },
      bad: [],
    },
  },
]
