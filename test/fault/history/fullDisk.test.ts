import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { once } from 'node:events'
import { expect, it, onTestFinished } from 'vitest'
import { emptyFolder } from '../../support/historyFolder.ts'
import { root } from '../../support/root.ts'
import type { Outcome, Task } from './answering.ts'
import { SIGNALS, SLOT_ROWS } from './slots.ts'

/**
 * A full disk is played by a limit on the size of a file, which every user may set and lift again: the engine
 * meets a refused write either way. Rows of a slot: three signals of ten samples.
 */
const ROOM_BYTES = 1_500_000
const ROWS = SIGNALS.length * SLOT_ROWS

async function startLimited(
  folder: string,
): Promise<{ child: ChildProcess; ask(task: Task): Promise<Outcome> }> {
  const script = new URL('./answering.ts', import.meta.url).pathname
  const node = [process.execPath, '--import', 'tsx', script, folder]
  const child = spawn('prlimit', [`--fsize=${ROOM_BYTES}:unlimited`, ...node], {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  })
  onTestFinished(() => void child.kill('SIGKILL'))
  await once(child, 'message')
  return {
    child,
    async ask(task) {
      child.send(task)
      const [outcome] = await once(child, 'message')
      return outcome as Outcome
    },
  }
}

it('goes on answering while the disk is full, drops the oldest rows, and stores again when there is room', async () => {
  const { child, ask } = await startLimited(emptyFolder())
  let stored = 0
  let outcome = await ask({ append: { first: 0, slots: 100 }, flush: true })
  while (outcome.refused === undefined) {
    stored += 100
    outcome = await ask({ append: { first: stored, slots: 100 }, flush: true })
  }
  expect(outcome.refused).toMatch(/history: .*(write|space|too large)/i)
  expect(outcome.health).toMatchObject({
    ok: false,
    dropped: 0,
    detail: expect.stringMatching(/tried again/),
  })
  // what was stored before, and what only waits, is there to be read
  expect(await ask({ read: stored + 100 })).toMatchObject({ whole: stored + 100, faulty: 0 })

  const waiting = await ask({ append: { first: stored + 100, slots: 1_000 }, advanceMs: 1_000 })
  expect(waiting.health).toMatchObject({ ok: false, pending: 30_000, dropped: 1_100 * ROWS - 30_000 })

  execFileSync('prlimit', ['--pid', String(child.pid), '--fsize=unlimited'])
  const after = await ask({ flush: true })
  expect(after.refused).toBeUndefined()
  expect(after.health).toMatchObject({ ok: true, pending: 0, dropped: 1_100 * ROWS - 30_000 })
  expect(await ask({ read: stored + 1_100 })).toMatchObject({ whole: stored + 1_000, faulty: 0 })
  expect(await ask({ maintain: true })).toMatchObject({ health: { ok: true } })
  expect(await ask({ read: stored + 1_100 })).toMatchObject({ whole: stored + 1_000, faulty: 0 })
}, 60_000)

it('leaves past days where they are when there is no room to seal them', async () => {
  const { child, ask } = await startLimited(emptyFolder())
  await ask({ append: { first: 0, slots: 400 }, flush: true })
  execFileSync('prlimit', ['--pid', String(child.pid), '--fsize=300:unlimited'])
  const full = await ask({ maintain: true })
  expect(full.health).toMatchObject({ ok: false, detail: expect.stringMatching(/sealing past days failed/) })
  expect(await ask({ read: 400 })).toMatchObject({ whole: 400, faulty: 0 })
  execFileSync('prlimit', ['--pid', String(child.pid), '--fsize=unlimited'])
  expect((await ask({ maintain: true })).refused).toBeUndefined()
  expect(await ask({ read: 400 })).toMatchObject({ whole: 400, faulty: 0, health: { ok: true } })
}, 60_000)
