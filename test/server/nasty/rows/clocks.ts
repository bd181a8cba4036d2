import { STAMPED } from '../plants.ts'
import type { NastyRow } from '../row.ts'

const OVER_SPEED = `
alarms:
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }
`
const HOUR = 3_600_000

/** One reading with the time of its device, so many milliseconds off. */
const told = (value: number, off: number) => (now: number) => JSON.stringify({ value, at: now + off })

/** Times that cannot be believed: the reading counts as of its arrival, and is not good. */
export const clocks: readonly NastyRow[] = [
  {
    when: 'the clock of the tachometer is an hour ahead',
    plant: STAMPED,
    more: OVER_SPEED,
    steps: [{ seconds: 20, sent: { tacho: told(1500, HOUR) } }],
    says: {
      figures: { speed: { quality: 'uncertain', value: 1500, reason: /device clock ahead 60 min/ } },
      state: 'generating',
      alarms: { over: 'normal' },
      journal: ['source-in-doubt raise'],
    },
  },
  {
    when: 'the clock of the tachometer begins in 1970',
    plant: STAMPED,
    steps: [{ seconds: 20, sent: { tacho: (now) => JSON.stringify({ value: 1500, at: now % HOUR }) } }],
    says: { figures: { speed: { quality: 'uncertain', value: 1500, reason: /device clock not set/ } } },
  },
  {
    when: 'over-speed comes with a clock that is ten minutes behind',
    plant: STAMPED,
    more: OVER_SPEED,
    steps: [{ seconds: 20, is: { tacho: 1900 }, sent: { tacho: told(1900, -600_000) } }],
    says: {
      figures: { speed: { quality: 'uncertain', value: 1900, reason: /device clock behind 10 min/ } },
      state: 'overSpeed',
      alarms: { over: 'unacknowledged, active' },
      journal: ['over raise', 'source-in-doubt raise'],
    },
  },
]
