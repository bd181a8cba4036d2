import type { AlarmPriority } from '../../../server/wire/alarm.ts'
import type { MachineState } from '../../../server/wire/plant.ts'
import { priorityNumbers, priorityWords } from '../../format/words.ts'

/** Square, triangle, diamond: the priority can be told without colour, and its number read. */
const PRIORITY_PATHS: Record<AlarmPriority, string> = {
  high: 'M3 3h18v18H3z',
  medium: 'M12 2 23 22H1z',
  low: 'M12 1 23 12 12 23 1 12z',
}

const NUMBER_HEIGHTS: Record<AlarmPriority, number> = { high: 16.5, medium: 19, low: 16.5 }

export function PriorityShape({ priority, flashes }: { priority: AlarmPriority; flashes: boolean }) {
  return (
    <svg
      class={`shape shape-${priority}${flashes ? ' flashes' : ''}`}
      viewBox="0 0 24 24"
      role="img"
      aria-label={`${priorityWords[priority]} priority`}
    >
      <path d={PRIORITY_PATHS[priority]} />
      <text x="12" y={NUMBER_HEIGHTS[priority]} text-anchor="middle">
        {priorityNumbers[priority]}
      </text>
    </svg>
  )
}

/** Only what makes power is filled; direction and form tell the rest, not red and green. */
const STATE_PATHS: Record<MachineState, string> = {
  generating: 'M8 5 27 16 8 27z',
  noLoad: 'M8 5 27 16 8 27z',
  motoring: 'M24 5 5 16 24 27z',
  starting: 'M6 17 16 7 26 17M6 26 16 16 26 26',
  runDown: 'M6 6 16 16 26 6M6 15 16 25 26 15',
  turning: 'M16 4a12 12 0 1 0 .1 0z',
  stopped: 'M6 6h20v20H6z',
  overSpeed: 'M16 3 30 28H2z',
  unknown: 'M16 3 29 16 16 29 3 16z',
}

const STATE_SIGNS: Partial<Record<MachineState, string>> = { overSpeed: '!', unknown: '?' }

/** Decoration: the word stands beside it. */
export function StateShape({ state }: { state: MachineState }) {
  return (
    <svg class={`state-shape state-${state}`} viewBox="0 0 32 32" aria-hidden="true">
      <path d={STATE_PATHS[state]} />
      {STATE_SIGNS[state] && (
        <text x="16" y={state === 'overSpeed' ? 25 : 21.5} text-anchor="middle">
          {STATE_SIGNS[state]}
        </text>
      )}
    </svg>
  )
}
