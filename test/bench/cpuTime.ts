import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'

/** CPU time that a process and its threads have used [ms]; undefined where /proc does not tell (not Linux). */
export function cpuTimeOf(pid: number | undefined): number | undefined {
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
