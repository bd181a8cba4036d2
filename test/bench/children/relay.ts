import { createServer } from 'node:http'
import { connect } from 'mqtt'
import { Server } from 'socket.io'
import { tellParent } from '../parent.ts'

/**
 * The floor of the alert bench: a bare relay from MQTT to socket.io. It receives every reading and parses it,
 * but sends on the one topic that the alarm is about only: sending all would make it slower than need be.
 */
const [port, topic] = process.argv.slice(2)
const http = createServer()
const io = new Server(http)
const client = connect(`mqtt://127.0.0.1:${port}`)

client.on('message', (name, payload) => {
  const value = Number(payload.toString())
  if (name === topic) io.emit('reading', value)
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
