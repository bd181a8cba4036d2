import type { HealthReply } from './wire/replies.ts'

export interface FlowInput {
  now: number
  /** When this server began to listen. */
  startedAt: number
  source: Pick<HealthReply['source'], 'connected'>
  storing: HealthReply['storing']
  topics: readonly Pick<HealthReply['topics'][number], 'plant' | 'lastReceivedAt'>[]
  plants: readonly {
    name: string
    id: string
    instruments: readonly { staleAfterMs: number; periodic: boolean }[]
  }[]
  lostEntries: number
}

/** Whether measurements come in and are kept, and what keeps them from it. */
export function dataFlow(input: FlowInput): HealthReply['flow'] {
  const { source, storing, lostEntries } = input
  const reasons = [
    ...(source.connected ? silentPlants(input) : ['The source of measurements is not connected.']),
    ...(storing.ok ? [] : [`Measurements are not stored: ${storing.detail ?? 'no reason given'}`]),
    ...(lostEntries > 0 ? [`${lostEntries} entries of the alarm journal wait for the disk.`] : []),
  ]
  return { ok: reasons.length === 0, reasons }
}

/** Plants of which nothing came for as long as the slowest of their instruments may be silent. */
function silentPlants({ now, startedAt, plants, topics }: FlowInput): string[] {
  return plants.flatMap(({ id, name, instruments }) => {
    const silences = instruments.filter((one) => one.periodic).map((one) => one.staleAfterMs)
    if (silences.length === 0) return []
    const longest = Math.max(...silences)
    const received = topics.filter((one) => one.plant === id).map((one) => one.lastReceivedAt ?? startedAt)
    const last = Math.max(startedAt, ...received)
    return now - last > longest
      ? [`Nothing has come from "${name}" for ${Math.round((now - last) / 1000)} s.`]
      : []
  })
}
