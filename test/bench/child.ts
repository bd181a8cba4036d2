import { type ChildProcess, fork } from 'node:child_process'
import { join } from 'node:path'
import { root } from '../support/root.ts'

/** What goes between the harness and its children; `type` tells what it is. */
export interface Note {
  type: string
  [key: string]: unknown
}

export interface Child {
  pid: number | undefined
  tell(note: Note): void
  /** The next note of this type; rejects when the child ends or `limitMs` goes by first. */
  next<T extends Note>(type: T['type'], limitMs?: number): Promise<T>
  stop(): Promise<void>
}

const running = new Set<ChildProcess>()
process.once('exit', () => {
  for (const child of running) child.kill('SIGKILL')
})

/** Starts test/bench/children/NAME.ts in a process of its own. */
export function startChild(name: string, args: readonly string[] = []): Child {
  const child = fork(join(root, `test/bench/children/${name}.ts`), args, { execArgv: ['--import', 'tsx'] })
  running.add(child)
  child.once('close', () => running.delete(child))
  return {
    pid: child.pid,
    tell: (note) => child.send(note),
    next: (type, limitMs = 30_000) => nextNote(child, { name, type, limitMs }),
    stop: () =>
      new Promise((resolve) => {
        if (child.exitCode !== null || child.signalCode !== null) return resolve()
        child.once('close', () => resolve())
        child.kill('SIGKILL')
      }),
  }
}

function nextNote<T extends Note>(
  child: ChildProcess,
  { name, type, limitMs }: { name: string; type: string; limitMs: number },
): Promise<T> {
  return new Promise((resolve, reject) => {
    const settle = (act: () => void) => {
      clearTimeout(timer)
      child.off('message', read).off('close', ended)
      act()
    }
    const read = (note: unknown) => {
      if (isNote(note) && note.type === type) settle(() => resolve(note as T))
    }
    const ended = (code: number | null) =>
      settle(() => reject(new Error(`the ${name} ended with exit code ${code} before it said "${type}"`)))
    const timer = setTimeout(
      () => settle(() => reject(new Error(`the ${name} did not say "${type}" within ${limitMs / 1000} s`))),
      limitMs,
    )
    child.on('message', read).on('close', ended)
  })
}

function isNote(note: unknown): note is Note {
  return typeof note === 'object' && note !== null && 'type' in note
}
