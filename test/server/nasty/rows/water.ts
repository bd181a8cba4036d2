import { GRID, ISLAND, RIG, WEIR } from '../plants.ts'
import type { NastyRow } from '../row.ts'

const RIVER = `
alarms:
  - { id: river, name: River dry, kind: low, figure: residualFlow, limit: 8 L/s, priority: high }
`
const HEAD_LOW = `
alarms:
  - { id: head, name: Head low, kind: low, figure: netHead, limit: 18 m, priority: low }
`
const PLATE_DRY = `
alarms:
  - { id: dry, name: No water, kind: low, figure: discharge, limit: 0.5 L/s, priority: low }
`

/** Levels, pressures and flows. */
export const water: readonly NastyRow[] = [
  {
    when: 'the pond falls below the centre of the outlet, so that the river gets nothing',
    plant: ISLAND,
    more: RIVER,
    steps: [
      { seconds: 20, is: { level: 0.42 } },
      { seconds: 40, is: { level: 0.39 } },
    ],
    says: {
      figures: {
        residualFlow: { quality: 'uncertain', value: 0, reason: /not calibrated/ },
        residualShare: { quality: 'uncertain', value: 0 },
      },
      alarms: { river: 'unacknowledged, active' },
      journal: ['river raise'],
    },
  },
  {
    when: 'the level gauge falls silent while the outlet is dry',
    plant: ISLAND,
    more: RIVER,
    steps: [
      { seconds: 20, is: { level: 0.39 } },
      { seconds: 30, sent: { level: null } },
    ],
    says: {
      figures: { residualFlow: { quality: 'bad', value: null, reason: /stale 31 s/ } },
      alarms: { river: 'unacknowledged, active, unknown' },
      journal: ['river raise', 'input-lost-residualFlow raise'],
    },
  },
  {
    when: 'the flow comes in L/s where the plant file says m³/s',
    plant: GRID,
    steps: [{ seconds: 20, sent: { flow: '620' } }],
    says: {
      figures: {
        discharge: { quality: 'bad', reason: /above range 1 m³\/s/ },
        hydraulicPower: { quality: 'bad', value: null, reason: /above range/ },
        waterToWireEfficiency: { quality: 'bad', value: null, reason: /above range/ },
      },
      counters: { waterVolume: { counted: 0, gap: 0 } },
    },
  },
  {
    when: 'the pressure comes in kPa where the plant file says bar',
    plant: GRID,
    more: HEAD_LOW,
    steps: [{ seconds: 20, sent: { pressure: '184.97' } }],
    says: {
      figures: {
        inletPressure: { quality: 'bad', reason: /above range 6 bar/ },
        netHead: { quality: 'bad', value: null },
      },
      alarms: { head: 'normal, unknown' },
      journal: ['input-lost-netHead raise'],
    },
  },
  {
    when: 'the differential pressure meter of the rig at rest shows a little less than nothing',
    plant: RIG,
    more: PLATE_DRY,
    steps: [{ seconds: 40, is: { plate: -0.02, tacho: 0, torque: 0, power: 0 } }],
    says: {
      figures: {
        discharge: { quality: 'good', value: 0 },
        hydraulicPower: { quality: 'good', value: 0 },
        shaftPower: { quality: 'good', value: 0 },
      },
      state: 'stopped',
      alarms: { dry: 'unacknowledged, active' },
      journal: ['dry raise'],
      counters: { waterVolume: { gap: 0 } },
    },
  },
  {
    when: 'the lines of the differential pressure meter are swapped',
    plant: RIG,
    more: PLATE_DRY,
    steps: [{ seconds: 40, is: { plate: -3 } }],
    says: {
      figures: { discharge: { quality: 'bad', value: null, reason: /runs back, or its lines are swapped/ } },
      alarms: { dry: 'normal, unknown' },
      journal: ['input-lost-discharge raise'],
    },
  },
  {
    when: 'the river falls below the crest of its weir',
    plant: WEIR,
    more: RIVER,
    steps: [
      { seconds: 20, is: { weir: 30 } },
      { seconds: 40, is: { weir: -10 } },
      { seconds: 20, is: { weir: 120 } },
    ],
    says: {
      figures: { residualFlow: { quality: 'good' } },
      alarms: { river: 'returnedUnacknowledged' },
      journal: ['river raise', 'river return'],
    },
  },
  {
    when: 'the river stays below the crest of its weir',
    plant: WEIR,
    more: RIVER,
    steps: [{ seconds: 40, is: { weir: -10 } }],
    says: {
      figures: { residualFlow: { value: 0 } },
      alarms: { river: 'unacknowledged, active' },
      journal: ['river raise'],
    },
  },
  {
    when: 'the tailwater gauge of a reaction turbine breaks off',
    plant: GRID,
    more: HEAD_LOW,
    steps: [{ seconds: 30, sent: { tailwater: null } }],
    says: {
      figures: {
        netHead: { quality: 'bad', value: null, reason: /tailwater level: stale 31 s/ },
        grossHead: { quality: 'bad', value: null },
        waterToWireEfficiency: { quality: 'bad', value: null },
      },
      state: 'generating',
      sentence: /^Making 88 kW\.$/,
      alarms: { head: 'normal, unknown' },
      journal: ['input-lost-netHead raise'],
    },
  },
]
