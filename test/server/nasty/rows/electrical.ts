import { GRID } from '../plants.ts'
import type { NastyRow } from '../row.ts'

const REVERSE = `
alarms:
  - { id: reverse, name: Power drawn, kind: low, figure: activePower, limit: "-2 % of rated", onDelay: 5 s, priority: low }
`

/** Power, voltages, currents and the grid. */
export const electrical: readonly NastyRow[] = [
  {
    when: 'the power comes in W where the plant file says kW',
    plant: GRID,
    steps: [{ seconds: 20, sent: { power: '88000' } }],
    says: {
      figures: {
        activePower: { quality: 'bad', reason: /above range 150 kW/ },
        waterToWireEfficiency: { quality: 'bad', value: null },
        powerFactor: { quality: 'bad', value: null },
      },
    },
  },
  {
    when: 'the power is lost while the machine turns',
    plant: GRID,
    steps: [{ seconds: 20, sent: { power: null } }],
    says: {
      figures: { activePower: { quality: 'bad', reason: /stale 21 s/ } },
      state: 'turning',
      sentence: /100 % of rated speed; the power is not known/,
    },
  },
  {
    when: 'the grid drives the machine because no water comes',
    plant: GRID,
    more: REVERSE,
    steps: [
      {
        seconds: 40,
        is: {
          flow: 0,
          pressure: 1.883,
          tacho: 999.5,
          power: -4,
          'current-1': 40,
          'current-2': 40,
          'current-3': 40,
        },
      },
    ],
    says: {
      figures: {
        activePower: { quality: 'good', value: -4 },
        waterToWireEfficiency: { quality: 'uncertain', value: null, reason: /motoring/ },
        turbineEfficiency: { quality: 'uncertain', value: null, reason: /motoring/ },
        specificEnergy: { quality: 'uncertain', value: null, reason: /motoring/ },
      },
      bad: [],
      state: 'motoring',
      sentence: /^4000 W go into the machine/,
      alarms: { reverse: 'unacknowledged, active' },
      journal: ['reverse raise'],
      counters: {
        energyGenerated: { gap: 0 },
        // A step counts from halfway to the reading that confirms it.
        energyImported: { counted: 4000 * 39 },
        motoringSeconds: { counted: 39 },
        runSeconds: { gap: 0 },
      },
    },
  },
]
