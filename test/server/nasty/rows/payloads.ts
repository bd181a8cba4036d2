import { SMALL } from '../plants.ts'
import type { NastyRow } from '../row.ts'

const POWER_LOW = `
alarms:
  - { id: power, name: Power low, kind: low, figure: activePower, limit: 1 kW, priority: low }
`

/** What is no number: it is counted as a fault of its topic, and the figure goes stale. */
export const payloads: readonly NastyRow[] = [
  'NaN',
  'nan',
  'null',
  '',
  ' ',
  'Infinity',
  '-Infinity',
  '1e999',
  '8,0',
  '0x58',
  'ERROR',
  '{"power": 8}',
  '[8]',
  '8 kW',
  '\u0000',
  '٨٨',
].map((payload) => ({
  when: `the power comes as ${JSON.stringify(payload)}`,
  plant: SMALL,
  more: POWER_LOW,
  steps: [{ seconds: 20, sent: { power: payload } }],
  says: {
    figures: {
      activePower: { quality: 'bad', reason: /stale 21 s/ },
    },
    alarms: { power: 'normal, unknown' },
    journal: ['input-lost-activePower raise'],
    counters: { energyGenerated: { counted: 0, gap: 0 } },
    faults: 20,
  },
}))
