import type { Clock } from '../../clock.ts'

const STEP_MS = 100
const [FEWEST, MOST] = [3, 7]

/**
 * Calls `take` every half second on average, at irregular instants of 0.3 to 0.7 s: hunting whose period is a multiple or a
 * part of an even step would show the same place of its swing every time and look still.
 *
 * Limits: what an instrument that sends once a second makes of hunting of one second, no sampling can undo.
 * Source: aliasing, Shannon 1949; irregular sampling against it is common practice, no source.
 */
export function everySample(clock: Clock, take: () => void, random: () => number = Math.random): () => void {
  let left = 0
  return clock.every(STEP_MS, () => {
    if (left-- > 0) return
    left = FEWEST - 1 + Math.floor(random() * (MOST - FEWEST + 1))
    take()
  })
}
