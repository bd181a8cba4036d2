import { spawn, spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { QueueHealth } from '../../server/wire/replies.ts'
import { root } from '../support/root.ts'

/** Writes 400 kB of log, and tells meanwhile how long its event loop was held up at most. */
const WRITER = `
const { openConsoleLog } = await import(${JSON.stringify(join(root, 'server/consoleLog.ts'))})
const { tell, queue } = openConsoleLog('watch', 'json')
let longestMs = 0
let at = performance.now()
setInterval(() => {
  longestMs = Math.max(longestMs, performance.now() - at)
  at = performance.now()
}, 5)
let i = 0
const writing = setInterval(() => {
  for (let one = 0; one < 10; one++) tell(\`\${i++} \${'x'.repeat(1990)}\`, ['info', 'warn', 'error'][i % 3])
  if (i < 190) return
  clearInterval(writing)
  process.send({ longestMs, queue: queue() })
}, 10)
process.on('message', () => process.exit(0))
`

/** The writer, not read until it has reported. */
async function blocked() {
  const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', WRITER], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
  })
  const report = await new Promise<{ longestMs: number; queue: QueueHealth }>((resolve) =>
    child.once('message', (one) => resolve(one as { longestMs: number; queue: QueueHealth })),
  )
  return { child, output: child.stdout!.setEncoding('utf8'), ...report }
}

describe('the log on the console', () => {
  it('never waits for a console that takes nothing, and loses no line up to its limit', async () => {
    const { child, output, longestMs, queue } = await blocked()
    expect(longestMs).toBeLessThan(1000)
    expect(queue.length).toBeGreaterThan(100_000)
    expect(queue.dropped).toBe(0)
    let text = ''
    for await (const chunk of output) {
      text += chunk
      if (text.split('\n').length > 190) child.send('end')
    }
    const entries = text.trim().split('\n')
    expect(entries.map((line) => Number.parseInt(JSON.parse(line).msg, 10))).toEqual(entries.map((_, i) => i))
    expect(entries.length).toBe(190)
  })

  it('keeps no process from ending, though nobody reads', async () => {
    const { child } = await blocked()
    await new Promise((resolve) => setTimeout(resolve, 1100))
    const ended = new Promise((resolve) => child.once('exit', resolve))
    child.send('end')
    expect(await ended).toBe(0)
    child.stdout!.destroy()
  })

  it('holds what Node itself warns of, in place of lines beside it', () => {
    const code = WRITER.replace(
      /let longestMs[\s\S]*/,
      "process.emitWarning('an old\\nfunction', 'DeprecationWarning')",
    )
    const args = ['--import', 'tsx', '--input-type=module', '-e', code]
    const { stdout, stderr } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' })
    const msg = 'node: DeprecationWarning: an old\\u{a}function'
    expect(JSON.parse(stdout)).toMatchObject({ level: 'warn', msg })
    expect(stderr).toBe('')
  })

  it('has its last words on the console when the process ends in the same moment', async () => {
    const code = WRITER.replace(/let longestMs[\s\S]*/, "tell('last words', 'error'); process.exit(3)")
    const args = ['--import', 'tsx', '--input-type=module', '-e', code]
    const { stdout, status } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' })
    expect(status).toBe(3)
    expect(JSON.parse(stdout)).toMatchObject({ level: 'error', msg: 'last words' })
  })
})
