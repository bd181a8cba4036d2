import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/** The two processes of a server. */
export interface Processes {
  watch: number
  /** Undefined while it is started again. */
  page: number | undefined
}

/** @param watch Its process id. */
export function processesOf(watch: number): Processes {
  return { watch, page: childrenOf(watch).find((pid) => commandOf(pid).includes('page')) }
}

export interface Footprint {
  rssMb: number
  descriptors: number
  /** What the probe in it says; absent before its first word. */
  heapMb?: number
  externalMb?: number
  handles?: number
}

/** @param folder Where the probes write. */
export function footprintOf(pid: number, folder: string): Footprint | undefined {
  try {
    const rssKb = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]
    return {
      rssMb: Number(rssKb) / 1024,
      descriptors: readdirSync(`/proc/${pid}/fd`).length,
      ...probed(pid, folder),
    }
  } catch {
    return undefined
  }
}

function probed(pid: number, folder: string): Partial<Footprint> {
  try {
    const one = JSON.parse(readFileSync(join(folder, `${pid}.json`), 'utf8')) as Record<string, number>
    return {
      heapMb: one['heapUsed']! / 2 ** 20,
      externalMb: one['external']! / 2 ** 20,
      handles: one['handles']!,
    }
  } catch {
    return {}
  }
}

function childrenOf(parent: number): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => parentOf(pid) === parent)
}

function parentOf(pid: number): number | undefined {
  try {
    return Number(readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ')[1])
  } catch {
    return undefined
  }
}

function commandOf(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, 'utf8')
  } catch {
    return ''
  }
}
