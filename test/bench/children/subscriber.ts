import { connect } from 'mqtt'
import { onParent, preciseNow, tellParent } from '../parent.ts'

/** The floor of the ingest bench: a bare MQTT subscriber that parses the number and does nothing with it. */
const client = connect(`mqtt://127.0.0.1:${process.argv[2]}`)
let count = 0
let sum = 0
let expected = Number.POSITIVE_INFINITY

client.on('message', (_topic, payload) => {
  sum += Number(payload.toString())
  count++
  if (count >= expected) tellParent({ type: 'arrived', at: preciseNow(), sum })
})
client.on('connect', () => {
  client.subscribe('bench/#', () => tellParent({ type: 'ready' }))
})
onParent('expect', (note: { type: string; count: number }) => {
  count = 0
  expected = note.count
  tellParent({ type: 'expecting' })
})
