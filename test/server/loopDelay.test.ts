import { setTimeout as wait } from 'node:timers/promises'
import { expect, it } from 'vitest'
import { watchLoopDelay } from '../../server/loopDelay.ts'

it('tells by how much the loop was late, without the period between two looks', async () => {
  const delay = watchLoopDelay()
  await wait(30)
  delay.tick()
  await wait(30)
  const end = performance.now() + 200
  while (performance.now() < end);
  await wait(30)
  delay.tick()
  // A look was due at some moment of the 10 ms before the loop was held up for 200.
  expect(delay.p99()).toBeGreaterThanOrEqual(185)
  for (let i = 0; i < 20 && delay.p99() > 9; i++) {
    await wait(100)
    delay.tick()
  }
  expect(delay.p99()).toBeLessThan(9)
})
