import type { Broker } from '../ingest/broker/broker.ts'
import type { LivePlant } from '../livePlant.ts'
import type { AlarmView, JournalEntry } from '../wire/alarm.ts'

/** Everything that Headrace publishes lies under this level; it is never read back. */
export const OUT_PREFIX = 'headrace'

/** Derived figures and alarm transitions for other programs: retained JSON under headrace/PLANT/…. */
export interface MqttOut {
  /** Publishes the figures that changed since the call before; call once a second. */
  figures(live: LivePlant): void
  alarm(plant: string, alarm: AlarmView, entry: JournalEntry): void
}

export function createMqttOut(broker: Broker): MqttOut {
  const sent = new Map<string, string>()
  const publish = (topic: string, payload: string) => broker.publish(topic, payload, { retain: true })

  return {
    figures({ plant, plan, evaluator }) {
      for (const node of plan.nodes) {
        if (node.kind === 'measured') continue
        const { id, unit } = node.description
        const topic = `${OUT_PREFIX}/${plant.id}/figures/${id}`
        const view = { ...evaluator.view(node.index), unit, simulated: plant.simulated }
        const payload = JSON.stringify(view)
        if (sent.get(topic) === payload) continue
        sent.set(topic, payload)
        publish(topic, payload)
      }
    },
    alarm: (plant, alarm, entry) =>
      publish(`${OUT_PREFIX}/${plant}/alarms/${alarm.id}`, JSON.stringify({ ...alarm, entry })),
  }
}
