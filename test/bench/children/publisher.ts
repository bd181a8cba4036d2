import { connectRaw, publishPacket } from '../packets.ts'
import { onParent, preciseNow, tellParent } from '../parent.ts'
import { benchSensors, type Sensor, SPEED_TOPIC } from '../plantFile.ts'

/** The plant's sensors: bursts as fast as the broker takes them, or a steady background load. */
const ROUNDS = 40
const TICK_MS = 10

const socket = await connectRaw(Number(process.argv[2]), 'bench-publisher')
const sensors = benchSensors()
const all = packetsOf(sensors)
// the speed is left to the alert bench's own publisher
const background = packetsOf(sensors.filter((sensor) => sensor.topic !== SPEED_TOPIC))

onParent('burst', async (note: { type: string; count: number }) => {
  tellParent({ type: 'began', at: preciseNow() })
  for (let sent = 0; sent < note.count; sent += all.length) {
    const packets = all.slice(0, note.count - sent)
    if (!socket.write(Buffer.concat(packets))) await new Promise((resolve) => socket.once('drain', resolve))
  }
})

onParent('pace', (note: { type: string; perSecond: number }) => {
  const began = performance.now()
  let sent = 0
  setInterval(() => {
    const due = Math.floor(((performance.now() - began) / 1000) * note.perSecond)
    const packets = Array.from({ length: due - sent }, (_, i) => background[(sent + i) % background.length]!)
    sent = due
    socket.write(Buffer.concat(packets))
  }, TICK_MS)
})
tellParent({ type: 'ready' })

/** `ROUNDS` readings of every sensor, each somewhat different from the one before. */
function packetsOf(some: readonly Sensor[]): Buffer[] {
  return Array.from({ length: ROUNDS }, (_, round) => Math.sin((2 * Math.PI * round) / ROUNDS)).flatMap(
    (swing) =>
      some.map(({ topic, mean, spread }) => publishPacket(topic, (mean + spread * swing).toFixed(3))),
  )
}
