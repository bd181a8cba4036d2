import { connect, type Socket } from 'node:net'
import { setPriority } from 'node:os'
import { setTimeout as wait } from 'node:timers/promises'
import { io } from 'socket.io-client'
import { connectRaw, publishPacket, subscribePacket } from '../packets.ts'
import { onParent, tellParent } from '../parent.ts'
import { PLANT } from '../plantFile.ts'

/**
 * Everything that strangers, readers and one MQTT client can send, all at once and without end, until it is stopped. Arguments:
 * broker's port, address of the page. It takes what processor time the server leaves: attackers bring their own.
 */
const LOWEST_PRIORITY = 19
const PAUSE_MS = 5
const CHUNK = 200
const [mqttPort, page] = process.argv.slice(2)
const web = new URL(page!)
const sent: Record<string, number> = {}
setPriority(LOWEST_PRIORITY)

function count(what: string, more = 1): void {
  sent[what] = (sent[what] ?? 0) + more
}

/** Does it again and again, whatever comes of it. */
function forever(what: string, act: () => Promise<unknown> | unknown): void {
  void (async () => {
    for (;;) {
      await Promise.resolve(act()).then(
        () => count(what),
        () => count(`${what}, refused`),
      )
      await wait(PAUSE_MS)
    }
  })()
}

function times(many: number, start: (i: number) => void): void {
  for (let i = 0; i < many; i++) start(i)
}

/** A connection that is opened, written to and left until the other side closes it or 5 s have gone by. */
function leaveOpen(port: number, text: string | Buffer, isReading = false): Promise<void> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1')
    const timer = setTimeout(() => socket.destroy(), 5000)
    if (isReading) socket.resume()
    socket.on('error', () => {})
    socket.once('close', () => {
      clearTimeout(timer)
      resolve()
    })
    socket.write(text)
  })
}

/** Writes as fast as it is taken in. */
async function pour(socket: Socket, block: Buffer): Promise<void> {
  if (socket.destroyed) throw new Error('closed')
  if (!socket.write(block))
    await Promise.race([new Promise((resolve) => socket.once('drain', resolve)), wait(2000)])
}

const request = (path: string, headers = '') => `GET ${path} HTTP/1.1\r\nHost: ${web.host}\r\n${headers}\r\n`
const stranger = 'X-Forwarded-For: 203.0.113.1\r\n'
const httpPort = Number(web.port)

times(10, () =>
  forever('pipelined', () => leaveOpen(httpPort, request('/api/openapi.json', stranger).repeat(CHUNK))),
)
times(4, () =>
  forever('live', () => leaveOpen(httpPort, request(`/api/plants/${PLANT}/live`).repeat(CHUNK), true)),
)
times(40, () =>
  forever('half a header', () => leaveOpen(httpPort, `GET / HTTP/1.1\r\nHost: ${web.host}\r\nA:`)),
)
times(20, () => forever('half a packet', () => leaveOpen(Number(mqttPort), Buffer.from([0x10, 0x7f]))))
const figures = Array.from({ length: 20 }, (_, i) => `auxiliary-${i + 1}`).join(',')
times(20, () =>
  forever('history', () =>
    fetch(`${page}/api/plants/${PLANT}/history?figures=${figures}&from=0&points=1000`).then((reply) =>
      reply.text(),
    ),
  ),
)
times(10, (i) =>
  forever('sign-in', () =>
    fetch(`${page}/api/session`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-forwarded-for': `203.0.113.${i}` },
      body: JSON.stringify({ name: `nobody${i}`, password: 'let me in please' }),
    }).then((reply) => reply.text()),
  ),
)
times(10, () => {
  const socket = io(page!, { transports: ['websocket'] })
  forever('join', () => times(20, () => void socket.emit('join', PLANT, () => {})))
})
times(4, (i) => {
  let client: Promise<Socket> | undefined
  const block = Buffer.concat(
    Array.from({ length: 500 }, (_, k) => publishPacket(`bench/auxiliary-${i + 1}`, String(20 + k / 500))),
  )
  forever('MQTT publish', async () => {
    client ??= connectRaw(Number(mqttPort), `flood-${i}`)
    const socket = await client.catch(() => undefined)
    if (!socket || socket.destroyed) client = undefined
    else await pour(socket, block)
  })
})
forever('MQTT subscribe', async () => {
  const socket = await connectRaw(Number(mqttPort), 'flood-filters')
  socket.on('error', () => {})
  await pour(socket, subscribePacket(Array.from({ length: 3000 }, (_, i) => `flood/${i}/#`)))
  await wait(1000)
  socket.destroy()
})

onParent('count', () => tellParent({ type: 'counted', sent }))
tellParent({ type: 'ready' })
