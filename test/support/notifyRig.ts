import { createJournal, type Journal } from '../../server/alarms/journal.ts'
import { createNotify, type Notify, type NotifyParts } from '../../server/alarms/notify/openNotify.ts'
import type { LivePlant } from '../../server/livePlant.ts'
import type { State } from '../../server/state/openState.ts'
import type { DeliveryView } from '../../server/wire/notifications.ts'
import { livePlantOf } from './livePlantOf.ts'
import { type ManualClock, manualClock } from './manualClock.ts'
import { type MemoryBroker, memoryBroker } from './memoryBroker.ts'
import { scratchState, settingsOf, WEDNESDAY } from './notifyBench.ts'
import { plantOf } from './plants.ts'
import { until } from './publisher.ts'

const RAD_S = (2 * Math.PI) / 60

/** A plant with an over-speed alarm, a medium and a low one, and everything from journal to channel. */
export interface NotifyRig {
  notify: Notify
  journal: Journal
  live: LivePlant
  clock: ManualClock
  state: State
  broker: MemoryBroker
  /** Speed in min⁻¹: above 1650 raises "over". */
  speed(perMinute: number): void
  /** Power in kW: below 1 raises "weak" (medium), above 14 "much" (low). */
  power(kilowatt: number): void
  /** Lets time go by, in steps that leave room for answers of real servers. */
  pass(ms: number, steps?: number): Promise<void>
  deliveries(kind?: string): DeliveryView[]
  /** Waits until what was sent over the network is settled. */
  until(fits: (deliveries: DeliveryView[]) => boolean): Promise<DeliveryView[]>
  close(): Promise<void>
}

export const PLANT = `
name: Upper mill
site: { timeZone: Europe/London }
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 15 kW }
instruments:
  - { id: tacho, role: speed, topic: mill/speed, unit: /min, periodic: false }
  - { id: meter, role: activePower, topic: mill/power, unit: kW, periodic: false }
alarms:
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high, action: Shut the inlet valve by hand. }
  - { id: weak, name: Power low, kind: low, figure: activePower, limit: 1 kW, priority: medium }
  - { id: much, name: Power high, kind: high, figure: activePower, limit: 14 kW, priority: low }
`

export interface RigWish
  extends Partial<Pick<NotifyParts, 'secrets' | 'publicUrl' | 'answerLimitMs' | 'state'>> {
  clock?: ManualClock
}

export function notifyRig(yaml: string, wish: RigWish = {}): NotifyRig {
  const { clock = manualClock(WEDNESDAY), state = scratchState(), ...more } = wish
  const plants = new Map<string, LivePlant>()
  const broker = memoryBroker()
  const notify = createNotify({
    secrets: () => undefined,
    publicUrl: 'https://plant.example',
    answerLimitMs: 2500,
    ...more,
    settings: settingsOf(yaml),
    state,
    clock,
    plants: () => plants,
    broker: () => broker,
    random: () => 0.5,
  })
  const journal = createJournal(state, notify.alongside)
  const live = livePlantOf(plantOf(PLANT), { journal, mono: clock.mono })
  plants.set('mill', live)
  live.setConnected(true)
  notify.start('http://127.0.0.1:8080')
  const deliveries = (kind?: string) =>
    notify.view().deliveries.filter((one) => kind === undefined || one.kind === kind)
  const give = (instrument: string, quantity: string, value: number) => {
    const at = clock.now()
    const fixed = { plant: 'mill', instrument, quantity, measuredAt: at, receivedAt: at }
    live.takeReading({ ...fixed, value, quality: 'good', reasons: [] })
    live.tick(at)
  }
  const pass = async (ms: number, steps = 1) => {
    for (let i = 0; i < steps; i++) {
      clock.advance(ms / steps)
      await new Promise((resolve) => setImmediate(resolve))
    }
  }
  return {
    notify,
    journal,
    live,
    clock,
    state,
    broker,
    deliveries,
    pass,
    speed: (perMinute) => give('tacho', 'speed', perMinute * RAD_S),
    power: (kilowatt) => give('meter', 'activePower', kilowatt * 1000),
    until: (fits) =>
      until(async () => {
        clock.advance(2)
        return deliveries()
      }, fits),
    async close() {
      const closed = notify.close()
      clock.advance(10_000)
      await closed
    },
  }
}
