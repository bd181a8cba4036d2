import { DAY_MS } from '../../../server/history/grid.ts'
import { openHistory } from '../../../server/history/openHistory.ts'
import { manualClock } from '../../support/manualClock.ts'
import { FIRST_SLOT_AT, slotAt, slotBatch } from './slots.ts'

/**
 * Started by the tests with FOLDER FIRST-SLOT LAST-SLOT HOW, and killed by them. Writes slot after slot and prints
 * the number of each that is durable; every tenth comes two days late. With "seal" it seals, merges and removes
 * all the while, on a clock that goes along with the slots.
 */
const [folder, first, last, how] = process.argv.slice(2) as [string, string, string, string]
const LATE_SLOTS = 48

const clock = manualClock(slotAt(Number(first)) + DAY_MS / 2)
const store = openHistory({
  folder,
  clock,
  rawDays: 20,
  memoryMb: 64,
  onNotice: (text) => console.error(text),
})
await store.open()
if (how === 'seal') void sealForEver()

for (let slot = Number(first); slot < Number(last); slot++) {
  clock.setWall(Math.max(FIRST_SLOT_AT, slotAt(slot) + DAY_MS / 2))
  if (slot % 10 !== 9) await write(slot)
  const late = slot - LATE_SLOTS
  if (late >= Number(first) && late % 10 === 9) await write(late)
}
console.log('done')
await new Promise(() => setInterval(() => {}, 60_000))

async function write(slot: number): Promise<void> {
  store.append(slotBatch(slot))
  await store.flush()
  console.log(slot)
}

async function sealForEver(): Promise<void> {
  for (;;) {
    const sentence = await store.maintain()
    if (sentence) console.error(sentence)
  }
}
