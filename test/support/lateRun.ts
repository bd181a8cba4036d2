import { signalName } from '../../server/history/recorder.ts'
import type { CounterDaysReply } from '../../server/wire/replies.ts'
import { memoryStore } from './memoryHistory.ts'
import { plantOf } from './plants.ts'
import { type TestHeadrace, testHeadrace } from './testHeadrace.ts'

const TIMED = 'payload: { format: json, value: /v, time: /t, timeUnit: ms }'
export const latePlant = plantOf(`
site: { timeZone: Europe/London }
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 20 kW }
turbine: { kind: turgo, ratedDischarge: 100 L/s }
instruments:
  - { id: power, role: activePower, topic: mill/power, unit: W, ${TIMED}, period: 2 s, accuracy: { reading: 1 % } }
  - { id: flow, role: discharge, topic: mill/flow, unit: L/s, ${TIMED}, period: 2 s, accuracy: { reading: 2 % } }
  - { id: head, role: grossHead, topic: mill/head, unit: m, ${TIMED}, period: 2 s, accuracy: { reading: 1 % } }
  - { id: speed, role: speed, topic: mill/speed, unit: /min, ${TIMED}, period: 2 s, accuracy: { reading: 0.1 % } }
  - { id: energy, role: energyMeter, topic: mill/energy, unit: kW.h, ${TIMED}, period: 2 s, accuracy: { reading: 0.5 % } }
alarms:
  - { id: over-speed-120, name: Over-speed 120 %, kind: overSpeed, figure: speed, limit: 120 % of rated, priority: high }
`)
export const STEP = 2000
/** A quarter of an hour begins here; midnight of the plant's day is half an hour later. */
export const BEGIN = Date.parse('2026-06-10T22:30:00Z')
/** Of what is measured [ms]. */
export const LENGTH = 50 * 60_000
/** As in the plant file; one that is not there reads nothing. */
export type Values = Partial<Record<'power' | 'flow' | 'head' | 'speed' | 'energy', number>>

/** What is so at a moment: power and flow go up and down together, and the meter counts it. */
export function truthAt(at: number): Values {
  const seconds = (at - BEGIN) / 1000
  const power = 9000 + 3000 * Math.sin(seconds / 300)
  const joules = 9000 * seconds - 3000 * 300 * (Math.cos(seconds / 300) - 1)
  return { power, flow: power / 200, head: 24, speed: 1500, energy: 5000 + joules / 3.6e6 }
}

/** An outage: its first and last moment, when what was kept is sent, and in which order. */
export interface Outage {
  from: number
  to: number
  sentAt: number
  isReversed?: boolean
  isTwice?: boolean
}

export interface LateRun {
  headrace: TestHeadrace
  store: ReturnType<typeof memoryStore>
  /** Sends what was measured at `at`. */
  send(at: number, values: Values): void
  /** Goes on with what is so until `to`, but for outages. */
  goOn(to: number, outages?: readonly Outage[], truth?: (at: number) => Values): Promise<void>
  days(counter: string): CounterDaysReply['days']
  figure(figure: string, span: [from: number, to: number]): Promise<[at: number, value: number][]>
}

export async function lateRun(): Promise<LateRun> {
  const store = memoryStore({ rowLimit: 10_000_000 })
  const headrace = await testHeadrace({ plants: [latePlant], start: BEGIN, history: store })
  const { clock } = headrace

  function send(at: number, values: Values): void {
    for (const [id, v] of Object.entries(values))
      headrace.broker.deliver({
        topic: `mill/${id}`,
        payload: JSON.stringify({ v, t: at }),
        receivedAt: clock.now(),
      })
  }

  function sendKept({ from, to, isReversed, isTwice }: Outage, truth: (at: number) => Values): void {
    const first = BEGIN + Math.ceil((from - BEGIN) / STEP) * STEP
    const kept = Array.from({ length: Math.floor((to - first) / STEP) + 1 }, (_, i) => first + i * STEP)
    if (isReversed) kept.reverse()
    for (const at of isTwice ? [...kept, ...kept] : kept) send(at, truth(at))
  }

  return {
    headrace,
    store,
    send,
    async goOn(to, outages = [], truth = truthAt) {
      while (clock.now() < to) {
        const now = clock.now()
        for (const one of outages) if (one.sentAt >= now && one.sentAt < now + STEP) sendKept(one, truth)
        if (!outages.some((one) => now >= one.from && now <= one.to)) send(now, truth(now))
        clock.advance(STEP)
        // what is derived anew goes on beside it
        if (now % 60_000 === 0) await new Promise((resolve) => setImmediate(resolve))
      }
      for (let turn = 0; turn < 200; turn++) await new Promise((resolve) => setImmediate(resolve))
    },
    days: (counter) =>
      headrace.live('mill').counters.days(counter, { from: '2026-06-10', to: '2026-06-11' })!.days,
    async figure(figure, [from, to]) {
      const signals = [signalName('mill', figure)]
      const { at, value } = await store.samples({ signals, from, to, lead: 0, limit: 100_000 })
      return [...at].map((moment, i) => [moment, value[i]!])
    },
  }
}
