import { createNotify } from '../../server/alarms/notify/openNotify.ts'
import type { LivePlant } from '../../server/livePlant.ts'
import type { JournalEntry } from '../../server/wire/alarm.ts'
import type { DeliveryView } from '../../server/wire/notifications.ts'
import { manualClock, START } from './manualClock.ts'
import { memoryBroker } from './memoryBroker.ts'
import { scratchState, settingsOf } from './notifyBench.ts'
import { type PlayedPlant, playPlant } from './playedPlant.ts'

/** What a person was told, and how the simulated machine really was at that moment. */
export interface ToldRow {
  /** After the start of the scenario [s]. */
  at: number
  to: string
  kind: string
  alarm: string | null
  short: string
  text: string
  truth: Truth
}

/** By the simulator itself, without instruments. */
export interface Truth {
  /** Shares of the rated ones. */
  speed: number
  power: number
  /** Highest share of rated speed since the scenario began. */
  highestSpeed: number
  tripped: boolean
}

export interface Drill {
  told: ToldRow[]
  raised: string[]
  entries: readonly JournalEntry[]
  /** Newest first. */
  deliveries: readonly DeliveryView[]
  plant: PlayedPlant
}

/** Figures as in life; readings fine enough for an over-speed, which is over within a fraction of a second, and else coarser. */
const TICK_MS = 200
const messageMsOf = (scenario: string) => (scenario === 'loadRejection' ? 20 : 100)
const SETTLING_S = 60

export interface DrillOptions {
  /** A channel of the notification file with the id "way". */
  channel?: string
  /** Leaves real servers time to answer [ms]. */
  pauseMs?: number
  /** Called at each second after the start of the scenario. */
  onSecond?: (second: number) => void
}

const fileOf = (channel: string) => `
channels: [${channel}]
recipients:
  - { id: anna, name: Anna, by: [{ channel: way, to: anna@plant.example }] }
  - { id: bert, name: Bert, by: [{ channel: way, to: bert@plant.example }] }
rules:
  - { priorities: [high, medium], to: [anna], ladder: [{ after: 5 min, to: [bert] }] }`

/** Plays a scenario on a demo plant for ten minutes, with everybody who would be told, on a clock of its own. */
export async function drill(
  id: string,
  scenario: string,
  { channel = '{ id: way, kind: mqtt }', pauseMs, onSecond = () => {} }: DrillOptions = {},
): Promise<Drill> {
  const state = scratchState()
  const clock = manualClock(START)
  const broker = memoryBroker()
  const plants = new Map<string, LivePlant>()
  const notify = createNotify({
    settings: settingsOf(fileOf(channel)),
    secrets: () => undefined,
    publicUrl: 'https://plant.example',
    state,
    clock,
    plants: () => plants,
    broker: () => broker,
    random: () => 0.5,
  })
  const onEntry = (entry: JournalEntry) => void state.write(notify.alongside(entry))
  const messageMs = messageMsOf(scenario)
  const plant = playPlant(id, {}, { messageMs, tickMs: TICK_MS, onEntry })
  plants.set(id, { ...plant.live, state: plant.live.state } as LivePlant)
  notify.start('http://127.0.0.1')
  const told: ToldRow[] = []
  let highestSpeed = 0

  const breathe = () =>
    new Promise((resolve) => (pauseMs === undefined ? setImmediate(resolve) : setTimeout(resolve, pauseMs)))

  async function run(seconds: number, each: (second: number) => void): Promise<void> {
    for (let i = 0; i < 5 * seconds; i++) {
      for (let look = 0; look < TICK_MS / messageMs; look++) {
        plant.run(messageMs / 1000)
        highestSpeed = Math.max(highestSpeed, speedOf(plant))
      }
      clock.advance(TICK_MS)
      if (i % 5 === 0) each(i / 5)
      await breathe()
      for (const { payload } of broker.published.splice(0)) told.push(rowOf(payload))
    }
  }

  function rowOf(payload: string): ToldRow {
    const { type, data } = JSON.parse(payload)
    const truth = truthOf(plant, highestSpeed)
    const at = (plant.now() - START) / 1000 - SETTLING_S
    const { recipient: to, alarm, short, text } = data
    return { at, to, kind: type.replace('alarm.', ''), alarm, short, text, truth }
  }

  await run(SETTLING_S, () => {})
  plant.site.command('scenario', scenario)
  await run(600, onSecond)
  const { deliveries } = notify.view()
  const closed = notify.close()
  clock.advance(10_000)
  await closed
  state.close()
  const { entries } = plant.journal
  const raised = entries.filter((one) => one.event === 'raise').map((one) => one.alarm)
  return { told, raised, entries, deliveries, plant }
}

function speedOf(plant: PlayedPlant): number {
  return plant.truth('speed') / plant.live.plant.constants.get('generator.ratedSpeed')!
}

function truthOf(plant: PlayedPlant, highestSpeed: number): Truth {
  const power = plant.truth('activePower') / plant.live.plant.constants.get('generator.ratedPower')!
  return { speed: speedOf(plant), power, highestSpeed, tripped: plant.truth('tripped.1') >= 0.5 }
}

/** For people: when, to whom, in which words, and how it really was. */
export function printDrill(scenario: string, { told }: Pick<Drill, 'told'>): string {
  const rows = told.map(
    ({ at, to, kind, short, truth }) =>
      `  ${at.toFixed(1).padStart(6)} s  ${to.padEnd(5)} ${kind.padEnd(9)} ${short}\n` +
      `${' '.repeat(27)}really: ${percent(truth.speed)} speed, ${percent(truth.power)} power${truth.tripped ? ', tripped' : ''}`,
  )
  return [`${scenario}: ${told.length === 0 ? 'nobody was told anything' : ''}`, ...rows].join('\n')
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`
}
