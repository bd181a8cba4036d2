import { openSync, readSync } from 'node:fs'

const SCHEDULER = '/proc/thread-self/schedstat'
const buffer = Buffer.alloc(64)
let file: number | undefined

/**
 * CPU time of this thread so far [ms]: what holds the event loop up. Where the system does not tell it (Linux does), that of the
 * whole process.
 */
export function cpuMs(): number {
  try {
    file ??= openSync(SCHEDULER, 'r')
    const length = readSync(file, buffer, 0, buffer.length, 0)
    return Number.parseInt(buffer.toString('latin1', 0, length), 10) / 1e6
  } catch {
    const { user, system } = process.cpuUsage()
    return (user + system) / 1000
  }
}
