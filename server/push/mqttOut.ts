import { type Broker, ONLINE, PRESENCE_TOPIC } from '../ingest/broker/broker.ts'
import type { LivePlant } from '../livePlant.ts'
import type { AlarmView, JournalEntry } from '../wire/alarm.ts'

/** Everything that Headrace publishes lies under this level; it is never read back. */
export const OUT_PREFIX = 'headrace'

/**
 * Each figure, each alarm and the word "online" are published again after so many seconds, also where nothing changed:
 * what somebody else published or cleared in its place is wrong no longer than that.
 */
const AGAIN_S = 60

/** Derived figures, the state of the machine and alarms for other programs: retained JSON under headrace/PLANT/…. */
export interface MqttOut {
  /** Publishes the figures and states that changed since the call before, and what is due again; call once a second. */
  everySecond(plants: Iterable<LivePlant>): void
  /** A step of an alarm, at once. */
  alarm(plant: string, alarm: AlarmView, entry: JournalEntry): void
}

export function createMqttOut(broker: Broker): MqttOut {
  const sent = new Map<string, string>()
  /** The last step of each alarm since the start, by topic. */
  const steps = new Map<string, JournalEntry>()
  let second = 0
  const publish = (topic: string, payload: string) => broker.publish(topic, payload, { retain: true })
  /** Each in a second of its own, so that a large plant is no burst. */
  const isDue = (nth: number) => nth % AGAIN_S === second

  function figures({ plant, plan, evaluator }: LivePlant): void {
    for (const node of plan.nodes) {
      if (node.kind === 'measured') continue
      const { id, unit } = node.description
      const view = { ...evaluator.view(node.index), unit, simulated: plant.simulated }
      publishChange(`${OUT_PREFIX}/${plant.id}/figures/${id}`, view, node.index)
    }
  }

  function state({ plant, state }: LivePlant): void {
    publishChange(`${OUT_PREFIX}/${plant.id}/state`, { ...state(), simulated: plant.simulated }, 0)
  }

  function publishChange(topic: string, view: object, nth: number): void {
    const payload = JSON.stringify(view)
    if (sent.get(topic) === payload && !isDue(nth)) return
    sent.set(topic, payload)
    publish(topic, payload)
  }

  function alarms({ plant, board }: LivePlant): void {
    board.views().forEach((alarm, nth) => {
      const topic = topicOf(plant.id, alarm)
      if (isDue(nth)) publish(topic, JSON.stringify({ ...alarm, entry: steps.get(topic) ?? null }))
    })
  }

  return {
    everySecond(plants) {
      second = (second + 1) % AGAIN_S
      for (const live of plants) {
        figures(live)
        state(live)
        alarms(live)
      }
      if (second === 0) publish(PRESENCE_TOPIC, ONLINE)
    },
    alarm(plant, alarm, entry) {
      const topic = topicOf(plant, alarm)
      steps.set(topic, entry)
      publish(topic, JSON.stringify({ ...alarm, entry }))
    },
  }
}

function topicOf(plant: string, { id }: AlarmView): string {
  return `${OUT_PREFIX}/${plant}/alarms/${id}`
}
