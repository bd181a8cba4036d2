import { readdirSync, statSync } from 'node:fs'
import { connect, type Socket } from 'node:net'
import { join } from 'node:path'
import { describe, expect, it, onTestFinished } from 'vitest'
import { systemClock } from '../../../server/clock.ts'
import { laneIn } from '../../../server/history/lane/address.ts'
import { readFrames, writeFrame } from '../../../server/history/lane/frames.ts'
import { createLaneReader } from '../../../server/history/lane/laneReader.ts'
import { pack, unpack } from '../../../server/history/lane/pack.ts'
import { serveLane } from '../../../server/history/lane/serveLane.ts'
import type { HistoryReader, RangeReply } from '../../../server/history/store.ts'
import { emptyFolder, historyAtNoon, NOON } from '../../support/historyFolder.ts'
import { manualClock } from '../../support/manualClock.ts'
import { batchOf } from '../../support/rangeModel.ts'

const SIGNAL = 'mill/netHead'
const RANGE = { signals: [SIGNAL], from: NOON, to: NOON + 1000, points: 1 }
const REPLY: RangeReply = { at: new Float64Array(1), bucketMs: 1, columns: [] }
const batch = batchOf([{ signal: SIGNAL, at: NOON, value: 3, quality: 0 }])

async function meanOf(reader: HistoryReader): Promise<number> {
  const { columns } = await reader.query(RANGE)
  return columns[0]!.mean[0]!
}

/** Connects, says this as one frame, and gives what is said before the other end hangs up. */
function strangerSays(path: string, words: Buffer[]): Promise<string> {
  return new Promise((resolve) => {
    const socket: Socket = connect(path, () => {
      for (const word of words) void writeFrame(socket, [word])
    })
    let said = ''
    socket.on('data', (part) => {
      said += part.toString('hex')
    })
    // What is written after the end.
    socket.on('error', () => {})
    socket.on('close', () => resolve(said))
  })
}

// What is checked are rules of the house: only the page side of this server reads history, and either end may be started again.
describe('the lane from the thread of history to the page side', () => {
  it('is a socket for the user of the server alone, which goes with the store', async () => {
    const { store, folder } = await historyAtNoon()
    expect(statSync(join(folder, 'lane.sock')).mode & 0o777).toBe(0o600)
    await store.close()
    expect(readdirSync(folder)).not.toContain('lane.sock')
  })

  it('says nothing to whoever does not show the key, and goes on for the one who does', async () => {
    const { store } = await historyAtNoon()
    store.append(batch)
    const [path] = store.lane.paths
    const question = Buffer.from(JSON.stringify({ kind: 'range', query: RANGE }))
    const wrong = Buffer.from(laneIn('/elsewhere').key, 'hex')
    for (const words of [[question], [wrong, question], [Buffer.alloc(0)], [Buffer.alloc(32), question]])
      expect(await strangerSays(path!, words)).toBe('')
    expect(await meanOf(store)).toBe(3)
  })

  it('answers the next page side when the one before it went in the middle of a question', async () => {
    const { store } = await historyAtNoon()
    store.append(batch)
    for (let i = 0; i < 10; i++) {
      const first = createLaneReader(store.lane, systemClock)
      const asked = first.query(RANGE).then(
        () => 'answered',
        (error: Error) => error.message,
      )
      await new Promise((resolve) => setTimeout(resolve, i))
      first.close()
      expect(['answered', expect.stringMatching(/ended before it had answered/)]).toContainEqual(await asked)
    }
    expect(await meanOf(store)).toBe(3)
  })

  it('is answered by a store that was opened anew under the same address', async () => {
    const address = laneIn(emptyFolder())
    const reader = createLaneReader(address, systemClock)
    onTestFinished(reader.close)
    for (let i = 0; i < 3; i++) {
      await expect(reader.query(RANGE)).rejects.toThrow(/cannot be read at present|ended before/)
      const server = await serveLane(address, async () => ({ reply: REPLY }))
      expect(await reader.query(RANGE)).toEqual(REPLY)
      server.close()
    }
  })

  it('gives up on a store that does not answer, and asks for the next one over another connection', async () => {
    const clock = manualClock(NOON)
    const address = laneIn(emptyFolder())
    let answerStuck = () => {}
    const stuckAnswer = new Promise<{ reply: RangeReply }>((resolve) => {
      answerStuck = () => resolve({ reply: { ...REPLY, bucketMs: 2 } })
    })
    const answers = [stuckAnswer]
    const server = await serveLane(address, async () => answers.pop() ?? { reply: REPLY })
    onTestFinished(server.close)
    const reader = createLaneReader(address, clock)
    onTestFinished(reader.close)
    const stuck = reader.query(RANGE)
    const behind = reader.query(RANGE)
    await expect.poll(() => reader.queue().length).toBe(1)
    await expect.poll(() => answers).toEqual([])
    clock.advance(60_000)
    await expect(stuck).rejects.toThrow(/ended before it had answered/)
    answerStuck()
    expect(await behind).toEqual(REPLY)
    expect(reader.queue().length).toBe(0)
  })

  it('lies among the temporary files where the name of the folder is too long for a socket', async () => {
    const { paths } = laneIn(join(emptyFolder(), 'deep'.repeat(30)))
    expect(paths).toHaveLength(1)
    const { store, folder } = await historyAtNoon({ folder: join(emptyFolder(), 'deep'.repeat(30)) })
    store.append(batch)
    expect(await meanOf(store)).toBe(3)
    expect(readdirSync(folder)).not.toContain('lane.sock')
  })
})

describe('what is packed', () => {
  it('is the same when it is unpacked: text of any length, columns of every kind, gaps among them', () => {
    for (let length = 0; length < 9; length++) {
      const data = {
        signal: 'ŧ'.repeat(length),
        at: Float64Array.from({ length }, (_, i) => (i % 2 ? Number.NaN : i + 0.5)),
        columns: [{ count: new Uint32Array(length).fill(7) }, { place: Uint16Array.of(1, 2, 3) }],
        quality: new Uint8Array(length).subarray(length >> 1),
        through: 5,
      }
      const bytes = Buffer.concat(pack(data))
      const alone = Buffer.from(new ArrayBuffer(bytes.length))
      bytes.copy(alone)
      expect(unpack(alone)).toEqual(data)
    }
  })
})

describe('frames', () => {
  it('come whole and in order, however they are torn on the way', async () => {
    const sent: Buffer[] = []
    const words = ['', 'a', 'x'.repeat(1000), 'end'].map((word) => Buffer.from(word))
    const write = (part: Uint8Array, taken?: () => void) => {
      sent.push(Buffer.from(part))
      taken?.()
    }
    for (const word of words)
      await writeFrame(
        { cork() {}, uncork() {}, write } as never,
        word.length > 1 ? [word.subarray(0, 1), word.subarray(1)] : [word],
      )
    const stream = Buffer.concat(sent)
    for (const step of [1, 3, 7, 500, stream.length]) {
      const got: string[] = []
      let hear = (_: Buffer) => {}
      const from = {
        on(_: string, listener: (part: Buffer) => void) {
          hear = listener
        },
      }
      readFrames(from as never, 1000, (bytes) => got.push(bytes.toString()))
      for (let i = 0; i < stream.length; i += step) hear(stream.subarray(i, i + step))
      expect(got).toEqual(words.map(String))
    }
  })
})
