import type { StoreHealth } from '../../../server/history/store.ts'
import { manualClock } from '../../support/manualClock.ts'
import { readableHistory } from '../../support/readableHistory.ts'
import { readSlots, slotAt, slotBatch } from './slots.ts'

/** What the process started with answering.ts can be asked to do. */
export interface Task {
  append?: { first: number; slots: number }
  advanceMs?: number
  flush?: boolean
  maintain?: boolean
  /** Read back all slots below this. */
  read?: number
}

export interface Outcome {
  health: StoreHealth
  /** Why the flush, the upkeep or the reading did not succeed. */
  refused?: string
  whole?: number
  faulty?: number
}

const PENDING_LIMIT = 30_000

/** A history in a process of its own, which does what it is told over the channel to its parent. */
async function answerParent(folder: string): Promise<void> {
  const clock = manualClock(slotAt(10_000))
  const store = readableHistory({ folder, clock, memoryMb: 64, pendingLimit: PENDING_LIMIT })
  await store.open()

  async function carryOut(task: Task): Promise<Partial<Outcome>> {
    const { first, slots } = task.append ?? { first: 0, slots: 0 }
    for (let slot = first; slot < first + slots; slot++) store.append(slotBatch(slot))
    if (task.advanceMs) clock.advance(task.advanceMs)
    if (task.flush) await store.flush()
    const refused = task.maintain ? await store.maintain() : undefined
    if (refused !== undefined) return { refused }
    if (task.read === undefined) return {}
    const { whole, faulty } = await readSlots(store, task.read, 'hours')
    return { whole: whole.size, faulty: faulty.length }
  }

  process.on('message', async (task: Task) => {
    const outcome = await carryOut(task).catch((error: Error) => ({ refused: error.message }))
    process.send!({ ...outcome, health: store.health() } satisfies Outcome)
  })
  process.send!({ health: store.health() } satisfies Outcome)
}

if (process.argv[2] && process.send) await answerParent(process.argv[2])
