import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { type Note, startChild } from './child.ts'

const WARM_UP = 30
const MEASURE_LIMIT_MS = 180_000

/** What the watcher saw of the alarms that it raised. */
export interface Measured extends Note {
  /** [ms] */
  latencies: number[]
  lost: number
}

/** Where the watcher hears webhooks. */
export function hookAddress(port: number): string {
  return `http://127.0.0.1:${port}/alarms`
}

/** The sender has to know the address before the receiver is there. */
export function freePort(): Promise<number> {
  const server = createServer()
  return new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo
      server.close(() => resolve(port))
    })
  })
}

export interface Watcher {
  /** Raises so many alarms one after the other. */
  measure(alarms: number): Promise<Measured>
  stop(): Promise<void>
}

/** Sensor and receiver of alarms, warmed up; `args` as children/watcher.ts takes them. */
export async function startWatcher(args: string[]): Promise<Watcher> {
  const watcher = startChild('watcher', args)
  const measure = (alarms: number) => {
    const measured = watcher.next<Measured>('measured', MEASURE_LIMIT_MS)
    watcher.tell({ type: 'measure', alarms })
    return measured
  }
  await watcher.next('ready')
  await measure(WARM_UP)
  return { measure, stop: watcher.stop }
}

/** Raises so many alarms and is done. */
export async function watchAlarms(args: string[], alarms: number): Promise<Measured> {
  const watcher = await startWatcher(args)
  try {
    return await watcher.measure(alarms)
  } finally {
    await watcher.stop()
  }
}
