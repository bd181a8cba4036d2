import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { createInterface } from 'node:readline'
import { root } from '../../support/root.ts'

export interface WriterProcess {
  /** Slots that it said are durable. */
  acknowledged: number[]
  /** What it had to say on stderr. */
  complaints: string[]
  /** Resolves when the line is printed; rejects when the process ends before. */
  printed(isLine: (line: string) => boolean): Promise<void>
  /** kill -9, and the end of the process. */
  kill(): Promise<void>
}

/** Starts writer.ts in a process of its own. */
export function startWriter(
  folder: string,
  { first, last, how }: { first: number; last: number; how: 'seal' | 'write' },
): WriterProcess {
  const script = new URL('./writer.ts', import.meta.url).pathname
  const args = ['--import', 'tsx', script, folder, String(first), String(last), how]
  const child: ChildProcess = spawn(process.execPath, args, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] })
  const ended = once(child, 'close')
  const acknowledged: number[] = []
  const complaints: string[] = []
  const lines = createInterface({ input: child.stdout! })
  lines.on('line', (line) => {
    if (/^\d+$/.test(line)) acknowledged.push(Number(line))
  })
  createInterface({ input: child.stderr! }).on('line', (line) => complaints.push(line))
  return {
    acknowledged,
    complaints,
    async printed(isLine) {
      const seen = new Promise<void>((resolve) => lines.on('line', (line) => isLine(line) && resolve()))
      const early = ended.then(() => {
        throw new Error(`the writer ended: ${complaints.join('\n')}`)
      })
      await Promise.race([seen, early])
      early.catch(() => {})
    },
    async kill() {
      child.kill('SIGKILL')
      await ended
    },
  }
}
