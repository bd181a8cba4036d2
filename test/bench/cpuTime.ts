import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'

/** CPU time that a process, its threads and the processes that it started have used [ms]; undefined where /proc does not tell (not Linux). */
export function cpuTimeOf(pid: number | undefined): number | undefined {
  try {
    const children = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').split(' ').filter(Boolean)
    const own = ownCpuTimeOf(pid)
    return own && children.reduce((sum, child) => sum + (ownCpuTimeOf(Number(child)) ?? 0), own)
  } catch {
    return undefined
  }
}

function ownCpuTimeOf(pid: number | undefined): number | undefined {
  try {
    // proc(5): after the name in parentheses, utime and stime are the 12th and 13th field, in clock ticks
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /, '')
      .split(' ')
    return ((Number(fields[11]) + Number(fields[12])) * 1000) / ticksPerSecond()
  } catch {
    return undefined
  }
}

let ticks: number | undefined

function ticksPerSecond(): number {
  ticks ??= Number(execFileSync('getconf', ['CLK_TCK'], { encoding: 'utf8' }))
  return ticks
}
