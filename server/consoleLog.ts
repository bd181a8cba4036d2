import { write, writeSync } from 'node:fs'
import { systemClock as clock } from './clock.ts'
import { createLog, type Log, type LogFormat } from './log.ts'
import type { QueueHealth } from './wire/replies.ts'

export type ConsoleLog = Log & { queue(): QueueHealth }

const STDOUT = 1
/** Lines that wait while the console takes none, such as a pipe that nobody reads [characters]. */
const LIMIT = 1_000_000
/** Lines up to this length stay whole in a pipe that several processes write to [characters] (POSIX: PIPE_BUF; 4096 at Linux). */
const WHOLE = 4096
/** A console that is full is tried again after this long [ms]; one that took nothing for so long is not waited for at the end. */
const FULL_MS = 100
const STUCK_MS = 1000

/** The log of this process on its console; what Node itself warns of stands in it too. */
export function openConsoleLog(name: string, format: LogFormat): ConsoleLog {
  const out = openConsole()
  process.on('exit', out.flush)
  const log = createLog({ name, format, clock, sink: out })
  process.removeAllListeners('warning')
  process.on('warning', (warning) => log.tell(`node: ${warning.name}: ${warning.message}`, 'warn'))
  return {
    ...log,
    queue: () => ({
      name: `log of the ${name}, characters`,
      length: out.waiting(),
      limit: LIMIT,
      policy: 'lines that the console does not take are given up and counted',
      dropped: out.dropped(),
    }),
  }
}

/** Never waits: what the console does not take is kept up to a limit, then given up and counted. */
function openConsole() {
  let lines: string[] = []
  let length = 0
  let dropped = 0
  let isWriting = false
  let tookAt = performance.now()

  /** So many lines at once as stay whole. */
  function next(): string {
    let end = 1
    for (let size = lines[0]!.length; end < lines.length; end++) {
      size += lines[end]!.length
      if (size > WHOLE) break
    }
    const chunk = lines.splice(0, end).join('')
    length -= chunk.length
    return chunk
  }

  function send(chunk: Buffer): void {
    isWriting = true
    write(STDOUT, chunk, (error, written) => {
      if (error?.code === 'EAGAIN') return void clock.after(FULL_MS, () => send(chunk))
      tookAt = performance.now()
      // A full disk, or a reader that is gone: what follows is tried anew.
      if (error) dropped++
      else if (written < chunk.length) return send(chunk.subarray(written))
      isWriting = false
      if (lines.length > 0) send(Buffer.from(next()))
    })
  }

  return {
    write(line: string): void {
      if (length + line.length > LIMIT) return void dropped++
      if (!isWriting) tookAt = performance.now()
      lines.push(line)
      length += line.length
      if (!isWriting) send(Buffer.from(next()))
    },
    /** At the end of the process, in which nothing comes back from the system any more. */
    flush(): void {
      const isStuck = isWriting && performance.now() - tookAt > STUCK_MS
      if (!isStuck) writeAll(Buffer.from(lines.join('')))
      lines = []
    },
    waiting: () => length,
    dropped: () => dropped,
  }
}

function writeAll(rest: Buffer): void {
  try {
    while (rest.length > 0) rest = rest.subarray(writeSync(STDOUT, rest))
  } catch {
    // There is nobody left to tell.
  }
}
