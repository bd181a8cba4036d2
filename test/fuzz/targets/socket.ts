import fc from 'fast-check'
import { io as connect, type Socket } from 'socket.io-client'
import { snapshot } from '../../../server/wire/plant.ts'
import type { JoinReply } from '../../../server/wire/socketEvents.ts'
import { damaged, jsonRubbish, rubbish } from '../rubbish.ts'
import { demand, opened, type Target } from '../target.ts'
import { openWorld, WORDS, type World } from '../world.ts'

interface Message {
  event: string
  values: unknown[]
  /** The message as text of the protocol, in place of the above. */
  text?: string
}

const event = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom('join', 'leave', 'frame') },
  { weight: 1, arbitrary: rubbish },
)
const scene = fc.oneof(
  fc.constantFrom(...WORDS),
  fc.constantFrom('lesson:1', 'replay:1', 'lesson:999'),
  jsonRubbish,
)
const bytes = fc.uint8Array({ maxLength: 30 }).map((all) => Buffer.from(all))
/** By the protocol of socket.io: kind of packet, name space, number for the answer, JSON. */
const text = damaged(
  fc.oneof(
    fc
      .tuple(fc.nat(9), fc.nat(99), scene)
      .map(([kind, id, one]) => `${kind}${id}${JSON.stringify(['join', one])}`),
    fc.constantFrom(
      '0',
      '1',
      '2["join"]',
      '20["join","quennerby"]',
      '451-["join",{"_placeholder":true,"num":0}]',
      '3[]',
      '430[1]',
      '0/other,{}',
      `2${'['.repeat(500)}`,
    ),
  ),
)
const message: fc.Arbitrary<Message> = fc.record(
  {
    event: event.filter((name) => !RESERVED.includes(name)),
    values: fc.array(fc.oneof(scene, jsonRubbish, bytes), { maxLength: 3 }),
    text,
  },
  { requiredKeys: ['event', 'values'] },
)

/** A case is what a browser sends over its live connection; then it must be able to join, or have been cut off. */
export const socketTarget: Target = {
  name: 'socket',
  share: 0.03,
  async open() {
    const world = await openWorld()
    await world.before()
    let socket: Socket | undefined
    return opened<Message[]>({
      cases: fc.array(message, { maxLength: 6 }),
      async run(messages) {
        for (const one of messages) sendTo(socket!, one)
        const isRaw = messages.some(({ text: raw }) => raw !== undefined)
        const first = await joinOrEnd(socket!, isRaw)
        // Its answer may have come under the number that this end gave its own question.
        const answer = isRaw && first && !first.ok ? await joinOrEnd(socket!, isRaw) : first
        if (!answer) return
        demand(answer.ok, () => `the plant could not be joined any more: ${JSON.stringify(answer)}`)
        const parsed = snapshot.safeParse(answer.ok && answer.snapshot)
        demand(parsed.success, () => `a snapshot that does not fit: ${parsed.error}`)
      },
      async before() {
        if (!socket?.connected) socket = await comeIn(world)
      },
      async close() {
        socket?.disconnect()
        await world.close()
      },
    })
  },
}

/** The library keeps these names for itself and does not send them. */
const RESERVED = ['connect', 'connect_error', 'disconnect', 'disconnecting', 'newListener', 'removeListener']

async function comeIn({ url, cookie }: World): Promise<Socket> {
  const socket = connect(url, {
    transports: ['websocket'],
    reconnection: false,
    forceNew: true,
    extraHeaders: { cookie: cookie('administrator'), 'x-forwarded-for': '192.0.2.7' },
  })
  await new Promise<void>((resolve, reject) => {
    socket.once('connect', resolve)
    socket.once('connect_error', reject)
  })
  return socket
}

function sendTo(socket: Socket, { event: name, values, text: raw }: Message): void {
  if (raw === undefined) socket.emit(name, ...values)
  else socket.io.engine.write(raw)
}

/** Bytes may have ended the session where this end of it does not know: then there is no answer, and the next case comes in anew. */
const NO_ANSWER_MS = 500

function joinOrEnd(socket: Socket, isRaw: boolean): Promise<JoinReply | undefined> {
  return new Promise((resolve) => {
    if (!socket.connected) return resolve(undefined)
    const giveUp = () => void socket.disconnect()
    const timer = isRaw ? setTimeout(giveUp, NO_ANSWER_MS) : undefined
    const end = (answer?: JoinReply) => {
      clearTimeout(timer)
      socket.off('disconnect', onGone)
      resolve(answer)
    }
    const onGone = () => end()
    socket.once('disconnect', onGone)
    socket.emit('join', 'quennerby', end)
  })
}
