import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { createSupervisor, type Progress } from '../../server/supervisor.ts'
import { manualClock, START } from '../support/manualClock.ts'
import { root } from '../support/root.ts'

const PID = 4711
/** As systemd gives it for WatchdogSec=30: sd_watchdog_enabled(3). */
const ENVIRONMENT = {
  NOTIFY_SOCKET: '/run/systemd/notify',
  WATCHDOG_USEC: '30000000',
  WATCHDOG_PID: String(PID),
}

function bench(environment: NodeJS.ProcessEnv = ENVIRONMENT) {
  const clock = manualClock(START)
  const sent: string[] = []
  const told: string[] = []
  const progress: Progress = { evaluations: 0, received: 0, taken: 0 }
  let fault: string | undefined
  const supervisor = createSupervisor({
    environment,
    pid: PID,
    clock,
    tell: (text) => told.push(text),
    send(state, onFault) {
      sent.push(state)
      if (fault) onFault(fault)
    },
  })
  return {
    supervisor,
    sent,
    told,
    failWith(reason: string) {
      fault = reason
    },
    /** A third of the 30 s, in which so much has happened. */
    pass(more: Partial<Progress>) {
      for (const [name, by] of Object.entries(more)) progress[name as keyof Progress] += by
      clock.advance(10_000)
      return sent.splice(0)
    },
    ready() {
      supervisor.ready(() => ({ ...progress }))
      return sent.splice(0)
    },
  }
}

// States by sd_notify(3).
describe('createSupervisor', () => {
  it('says that it is ready, and then gives a sign of life in each third of the time', () => {
    const one = bench()
    expect(one.ready()).toEqual(['READY=1'])
    expect(one.pass({ evaluations: 50, received: 100, taken: 100 })).toEqual(['WATCHDOG=1'])
    expect(one.pass({ evaluations: 50, received: 100, taken: 90 })).toEqual(['WATCHDOG=1'])
    one.supervisor.stopping()
    expect(one.sent.splice(0)).toEqual(['STOPPING=1'])
    expect(one.pass({ evaluations: 50 })).toEqual([])
  })

  it('gives none while figures are not brought up to date', () => {
    const one = bench()
    one.ready()
    expect(one.pass({ evaluations: 0, received: 10, taken: 10 })).toEqual([])
    expect(one.pass({ evaluations: 1 })).toEqual(['WATCHDOG=1'])
  })

  it('gives none while instruments send and nothing is taken from it', () => {
    const one = bench()
    one.ready()
    expect(one.pass({ evaluations: 50, received: 10, taken: 0 })).toEqual([])
    expect(one.pass({ evaluations: 50, received: 10, taken: 10 })).toEqual(['WATCHDOG=1'])
  })

  it('does not take a plant that is silent for a fault of its own', () => {
    const one = bench()
    one.ready()
    expect(one.pass({ evaluations: 50 })).toEqual(['WATCHDOG=1'])
  })

  it.each<[string, NodeJS.ProcessEnv, string[]]>([
    ['without systemd', {}, []],
    ['where no sign of life is asked for', { NOTIFY_SOCKET: '@x' }, ['READY=1']],
    ['where it is asked of another process', { ...ENVIRONMENT, WATCHDOG_PID: '1' }, ['READY=1']],
  ])('gives none %s', (_, environment, atReady) => {
    const one = bench(environment)
    expect(one.ready()).toEqual(atReady)
    expect(one.pass({ evaluations: 50 })).toEqual([])
  })

  it('says once why systemd cannot be told', () => {
    const one = bench()
    one.failWith('spawn systemd-notify ENOENT')
    one.ready()
    one.pass({ evaluations: 1 })
    one.pass({ evaluations: 1 })
    expect(one.told).toEqual(['systemd could not be told "READY=1": spawn systemd-notify ENOENT'])
  })
})

describe('the unit file', () => {
  const text = readFileSync(join(root, 'server/packaging/headrace.service'), 'utf8')

  // systemd.exec(5), systemd.service(5)
  it.each([
    'Type=notify',
    'NotifyAccess=all',
    'WatchdogSec=30',
    'Restart=always',
    'ProtectSystem=strict',
    'NoNewPrivileges=yes',
    'StateDirectory=headrace',
    'CapabilityBoundingSet=',
    'OOMPolicy=continue',
    'KillMode=mixed',
  ])('says %s', (line) => {
    expect(text.split('\n')).toContain(line)
  })
})
