import { createServer, request } from 'node:http'
import { text } from 'node:stream/consumers'
import { connect } from 'mqtt'
import { io } from 'socket.io-client'
import { onParent, tellParent } from '../parent.ts'
import { OVER_SPEED, PLANT, SPEED_TOPIC } from '../plantFile.ts'

/**
 * Sensor and browser in one process, hence with one clock: publishes a speed beyond the limit, waits until the
 * browser's end knows, or a webhook has come, and notes how long that took. Arguments: broker's port, page's
 * address or "none", "headrace" or "relay", and the port at which webhooks are received, or nothing.
 */
const LOST_AFTER_MS = 2000
const [port, page, kind, hookPort] = process.argv.slice(2)
const sensor = connect(`mqtt://127.0.0.1:${port}`)
const browser = io(page!, { transports: ['websocket'], autoConnect: page !== 'none' })
/** Called with true when the browser is told of over-speed, with false when it is told of its end. */
let notice: (isOver: boolean) => void = () => {}
/** In the newest message; a relay has none. */
let link: string | undefined
/** Another one than that of the flood, whose limits are used up. */
const OWN_ADDRESS = '127.5.0.1'
const MOST_ATTEMPTS = 50

// each frame is taken in at once, whoever tells of the alarm
browser.on('frame', (_frame: unknown, done: () => void) => done())
if (hookPort) await receiveWebhooks(Number(hookPort))
else {
  // Headrace: transitions of the alarm
  browser.on('alarm', ({ alarm }: { alarm: { id: string; active: boolean } }) => {
    if (alarm.id === 'overSpeed') notice(alarm.active)
  })
  // the relay: the bare value
  browser.on('reading', (value: number) => notice(value > OVER_SPEED.limit))
}

onParent('measure', async (note: { type: string; alarms: number }) => {
  const latencies: number[] = []
  let lost = 0
  for (let i = 0; i < note.alarms; i++) {
    const latency = await publishAndWait(true)
    if (latency === undefined) lost++
    else latencies.push(latency)
    if (hookPort) await endAndAcknowledge()
    else await publishAndWait(false)
    // out of step with every timer of either side
    await new Promise((resolve) => setTimeout(resolve, 5 + ((i * 7) % 23)))
  }
  tellParent({ type: 'measured', latencies, lost })
})

await new Promise((resolve) => sensor.once('connect', resolve))
if (page !== 'none' && !browser.connected)
  await new Promise<void>((resolve) => browser.once('connect', resolve))
if (page !== 'none' && kind === 'headrace') {
  const reply: { ok: boolean; error?: string } = await browser
    .timeout(LOST_AFTER_MS)
    .emitWithAck('join', PLANT)
  if (!reply.ok) throw new Error(`the server refused the bench plant: ${reply.error}`)
}
tellParent({ type: 'ready' })

/** From just before the sensor publishes until the browser is told [ms]; undefined when it is not told. */
function publishAndWait(isOver: boolean): Promise<number | undefined> {
  return new Promise((resolve) => {
    const began = performance.now()
    const timer = setTimeout(resolve, LOST_AFTER_MS, undefined)
    notice = (told) => {
      if (told !== isOver) return
      clearTimeout(timer)
      resolve(performance.now() - began)
    }
    sensor.publish(SPEED_TOPIC, String(isOver ? OVER_SPEED.above : OVER_SPEED.below))
  })
}

/** What nobody has answered is told once: the next over-speed has to be an event of its own. */
async function endAndAcknowledge(): Promise<void> {
  sensor.publish(SPEED_TOPIC, String(OVER_SPEED.below))
  if (link === undefined) return
  for (let attempt = 0; attempt < MOST_ATTEMPTS; attempt++) {
    const page = await ask(link, 'GET', '').catch(() => '')
    const raisedAt = /name="raisedAt" value="([\d.]+)"/.exec(page)?.[1]
    const form = new URLSearchParams({ raisedAt: raisedAt ?? '' }).toString()
    const answer = raisedAt === undefined ? page : await ask(link, 'POST', form).catch(() => '')
    // Answered, and over too: ends of an alarm come at most once a second. In a flood the page may refuse to answer.
    if (answer.includes('not active') && !answer.includes('<button>')) return
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  throw new Error('no over-speed could be acknowledged: the next one would not be told')
}

function ask(url: string, method: 'GET' | 'POST', body: string): Promise<string> {
  const headers = method === 'GET' ? {} : { 'content-type': 'application/x-www-form-urlencoded' }
  return new Promise((resolve, reject) => {
    const options = { method, headers, localAddress: OWN_ADDRESS, timeout: LOST_AFTER_MS }
    const asked = request(url, options, (answer) => void text(answer).then(resolve, reject))
    asked.once('error', reject).once('timeout', () => asked.destroy(new Error(`no answer from ${url}`)))
    asked.end(body)
  })
}

function receiveWebhooks(at: number): Promise<void> {
  const server = createServer((request, response) => {
    let body = ''
    request.setEncoding('utf8').on('data', (chunk: string) => {
      body += chunk
    })
    request.on('end', () => {
      const { type, data } = JSON.parse(body) as { type: string; data?: { acknowledgeUrl?: string } }
      response.writeHead(204).end()
      if (type !== 'alarm.raised') return
      link = data?.acknowledgeUrl
      notice(true)
    })
  })
  return new Promise((resolve) => server.listen(at, '127.0.0.1', resolve))
}
