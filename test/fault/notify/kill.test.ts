import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { setTimeout as wait } from 'node:timers/promises'
import { build } from 'vite'
import { expect, it } from 'vitest'
import { createJournal } from '../../../server/alarms/journal.ts'
import { createDeliveryTable } from '../../../server/alarms/notify/deliveryTable.ts'
import { openState } from '../../../server/state/openState.ts'
import { startHookServer } from '../../support/hookServer.ts'
import { root } from '../../support/root.ts'

const KILLS = 100

/** One file: a hundred starts from the sources would be mostly compiling. @returns its path. */
async function bundleWriter(): Promise<string> {
  const outDir = join(root, 'dist', 'test')
  await build({
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: new URL('./alarmWriter.ts', import.meta.url).pathname,
      outDir,
      emptyOutDir: false,
      rollupOptions: { output: { entryFileNames: 'alarmWriter.mjs' } },
    },
  })
  return join(outDir, 'alarmWriter.mjs')
}

interface Run {
  script: string
  folder: string
  url: string
}

/** Runs the writer; @returns the sequences that it said are recorded, once it is killed. */
async function runAndKill({ script, folder, url }: Run, afterMs: number): Promise<number[]> {
  const child = spawn(process.execPath, [script, folder, url], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const ended = once(child, 'close')
  const recorded: number[] = []
  const lines = createInterface({ input: child.stdout })
  const first = once(lines, 'line')
  lines.on('line', (line) => recorded.push(Number(line)))
  await Promise.race([first, ended.then(() => Promise.reject(new Error('the writer ended by itself')))])
  await wait(afterMs)
  child.kill('SIGKILL')
  await ended
  return recorded
}

it(`loses no transition and no message over ${KILLS} kills at random moments; what comes twice has the same id`, async () => {
  const folder = mkdtempSync(join(tmpdir(), 'headrace-kill-'))
  const hook = await startHookServer()
  const run = { script: await bundleWriter(), folder, url: hook.url }
  const recorded = new Set<number>()
  for (let kill = 0; kill < KILLS; kill++) {
    // a third dies at once, in or about the first transaction; the others somewhere in the stream
    const sequences = await runAndKill(run, Math.random() * (kill % 3 === 0 ? 8 : 150))
    for (const sequence of sequences) recorded.add(sequence)
  }
  const state = openState(folder)
  const entries = createJournal(state).newest('mill', { limit: 100_000 })
  const steps = entries.filter((entry) => entry.event === 'raise')
  const table = createDeliveryTable(state)
  const deliveries = table.newest(100_000).filter((one) => one.kind === 'raised')
  const high = deliveries.filter((one) => one.alarm === 'over')
  state.close()

  // what the journal said is recorded is there
  const kept = new Set(entries.map((entry) => entry.sequence))
  expect([...recorded].filter((sequence) => !kept.has(sequence))).toEqual([])
  // each raise has its delivery, and no delivery is without its raise
  expect(high.length).toBe(steps.length)

  // what had not arrived yet arrives from what the dead processes left behind
  const arrived = () => new Set(hook.requests.map((request) => request.headers['webhook-id']))
  const missing = () => high.filter((one) => !arrived().has(one.id))
  const left = missing().length
  for (let more = 0; more < 20 && missing().length > 0; more++) await runAndKill(run, 500)
  expect(missing().map((one) => one.id)).toEqual([])

  // at least once: a repetition carries the id and the text of the first
  const texts = new Map<string, Set<string>>()
  for (const { headers, body } of hook.requests) {
    const id = String(headers['webhook-id'])
    texts.set(id, (texts.get(id) ?? new Set()).add(JSON.parse(body).data.short))
  }
  expect([...texts.values()].filter((set) => set.size > 1)).toEqual([])
  const doubled = hook.requests.length - texts.size
  console.log(
    `killed ${KILLS} times: ${entries.length} transitions, ${high.length} messages, ${left} delivered after the last kill, ${doubled} came twice`,
  )
  await hook.close()
}, 600_000)
