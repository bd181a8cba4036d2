import { createHmac } from 'node:crypto'
import { Agent, createServer, request } from 'node:http'
import { connect } from 'mqtt'
import { Server } from 'socket.io'
import { tellParent } from '../parent.ts'
import { OVER_SPEED } from '../plantFile.ts'

/**
 * The floor of the alert bench: a bare relay from MQTT to socket.io, and to a webhook where one is given. It receives
 * every reading and parses it, but sends on the one topic that the alarm is about only: sending all would make it
 * slower than need be. Arguments: broker's port, topic, address of the webhook or nothing.
 */
const [port, topic, hook] = process.argv.slice(2)
const http = createServer()
const io = new Server(http)
const agent = new Agent({ keepAlive: true })
const client = connect(`mqtt://127.0.0.1:${port}`)

client.on('message', (name, payload) => {
  const value = Number(payload.toString())
  if (name !== topic) return
  if (hook) post(value)
  else io.emit('reading', value)
})
client.on('connect', () => {
  client.subscribe('bench/#', () => {
    http.listen(0, '127.0.0.1', () => {
      const address = http.address()
      if (address && typeof address === 'object')
        tellParent({ type: 'ready', url: `http://127.0.0.1:${address.port}` })
    })
  })
})

/** Signed, as the webhooks that it stands beside are. */
function post(value: number): void {
  const body = JSON.stringify({ type: value > OVER_SPEED.limit ? 'alarm.raised' : 'alarm.returned' })
  const signature = createHmac('sha256', 'bench').update(body).digest('base64')
  const headers = { 'content-type': 'application/json', 'webhook-signature': `v1,${signature}` }
  const sent = request(hook!, { method: 'POST', agent, headers })
  sent.on('response', (response) => response.resume())
  // What does not arrive is counted as lost at the receiving end.
  sent.on('error', () => {})
  sent.end(body)
}
