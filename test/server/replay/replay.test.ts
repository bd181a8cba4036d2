import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { concealedWith } from '../../../server/push/conceal.ts'
import { createReplay, type Replay } from '../../../server/replay/replay.ts'
import type { FigureValue } from '../../../server/wire/figure.ts'
import { type LiveMoment, type RecordedHistory, recordHistory } from '../../support/recordedHistory.ts'

const MINUTE = 60_000
let recording: RecordedHistory

beforeAll(() => {
  recording = recordHistory('quennerby', {
    seconds: 150,
    commands: { 70: ['jet-3', false], 100: ['lamps', 0] },
    silent: { topic: 'rotor/torque', from: 110, to: 130 },
  })
}, 60_000)

/** A replay that stands at this moment, with everything read and evaluated. */
async function at(moment: number): Promise<Replay> {
  const { live, history, moments, end } = recording
  const from = moments[0]!.at
  const replay = createReplay({ id: 1, plant: live.plant, history, from, to: end, by: 'A' })
  replay.control({ at: moment })
  for (let mono = 0; replay.at() < moment && mono < 200; mono++) {
    await Promise.resolve()
    replay.tick(mono)
  }
  expect(replay.at()).toBe(moment)
  return replay
}

const momentAt = (second: number): LiveMoment => recording.moments[second - 1]!

function valuesOf(replay: Replay): FigureValue[] {
  const scene = replay.scene()
  return scene.view.figures.map((_, index) => scene.value(index))
}

/** Figures with a memory longer than the warm-up, or with words of the instrument that history does not keep. */
const REMEMBERS = /Mean$|stateOfCharge|timeTo/

describe('a replay of a recorded stretch', () => {
  it.each([60, 72, 95, 115, 140])('shows at second %d what was live then', async (second) => {
    const then = momentAt(second)
    const replay = await at(then.at)
    const now = valuesOf(replay)
    const { nodes } = recording.live.plan
    let compared = 0
    for (const [i, { description }] of nodes.entries()) {
      if (REMEMBERS.test(description.id)) continue
      const [was, is] = [then.values[i]!, now[i]!]
      expect(is.quality, `${description.id} at ${second} s`).toBe(was.quality)
      if (was.value === null) expect(is.value, description.id).toBeNull()
      else {
        expect(is.value, description.id).not.toBeNull()
        expect(Math.abs(is.value! - was.value), description.id).toBeLessThanOrEqual(
          1e-9 * Math.abs(was.value) + 1e-12,
        )
        compared++
      }
    }
    expect(compared).toBeGreaterThan(60)
    expect(replay.scene().state().state).toBe(then.state.state)
  })

  it('blanks what follows from an instrument that was silent', async () => {
    const replay = await at(momentAt(125).at)
    const index = recording.live.plan.indexOf.get('shaftPower')!
    expect(replay.scene().value(index)).toMatchObject({ value: null, quality: 'bad' })
  })

  it('is stamped as a replay in every snapshot, and offers no controls and no alarms', async () => {
    const scene = (await at(momentAt(60).at)).scene()
    expect(scene.stamp()?.replay).toMatchObject({ at: momentAt(60).at, isPaused: true, by: 'A' })
    expect(scene.alarms()).toEqual([])
    expect(scene.view.controls).toEqual([])
    expect(scene.id).toBe('replay:1')
    expect(scene.view.id).toBe('replay:1')
  })

  it('gives nothing of a hidden figure away, in any figure, reason or sentence', async () => {
    const replay = await at(momentAt(95).at)
    const open = valuesOf(replay)
    const { plan } = recording.live
    const ids = plan.nodes.map((node) => node.description.id)
    fc.assert(
      fc.property(fc.uniqueArray(fc.constantFrom(...ids), { minLength: 1, maxLength: 4 }), (hidden) => {
        replay.control({ hidden })
        const concealed = concealedWith(plan, hidden)
        const shown = valuesOf(replay)
        for (const [i, id] of ids.entries())
          if (concealed.has(id)) expect(shown[i]).toMatchObject({ value: null, at: null })
        const said = JSON.stringify([replay.scene().state(), shown.map((one) => one.reasons)])
        expect(
          said.match(/\d+(\.\d+)?/g)?.filter((text) => text.length > 2 && text.length < 12) ?? [],
        ).toEqual([])
        for (const id of hidden) expect(replay.scene().stamp()!.hidden).toContain(id)
      }),
      { numRuns: 60 },
    )
    replay.control({ hidden: [] })
    expect(valuesOf(replay)).toEqual(open)
  })

  it('hides the same number in another form: a figure that follows from the hidden one alone, and the other way round', async () => {
    const { plan } = recording.live
    const pairs = plan.nodes.flatMap((node) => {
      if (node.kind !== 'derived' || node.way.window || new Set(node.inputs).size !== 1) return []
      return [[node.description.id, plan.nodes[node.inputs[0]!]!.description.id] as const]
    })
    expect(pairs.length).toBeGreaterThan(3)
    for (const [follows, from] of pairs) {
      expect(concealedWith(plan, [follows]), `${follows} from ${from}`).toContain(from)
      expect(concealedWith(plan, [from]), `${from} to ${follows}`).toContain(follows)
    }
  })

  it('gives no other figure that reads the same number as a hidden measured one', async () => {
    const replay = await at(momentAt(95).at)
    const { plan } = recording.live
    const open = valuesOf(replay)
    for (const node of plan.nodes.filter((one) => one.kind === 'measured' && !one.description.discrete)) {
      const { id, unit } = node.description
      replay.control({ hidden: [id] })
      const shown = valuesOf(replay)
      const same = plan.nodes.filter(
        ({ index, description }) =>
          description.unit === unit &&
          // three phases of one meter may read alike; an instructor is told of that
          description.id.split('.')[0] !== id.split('.')[0] &&
          open[node.index]!.value !== null &&
          Math.abs(open[node.index]!.value!) > 1e-9 &&
          shown[index]!.value === open[node.index]!.value,
      )
      expect(
        same.map(({ description }) => description.id),
        id,
      ).toEqual([])
    }
    replay.control({ hidden: [] })
  })

  it('waits for the recording instead of showing what it has not read', () => {
    const { live, moments, end } = recording
    const never = { samples: () => new Promise<never>(() => {}) }
    const from = moments[0]!.at
    const replay = createReplay({ id: 2, plant: live.plant, history: never, from, to: end, by: 'A' })
    replay.control({ isPaused: false })
    for (let mono = 0; mono < 5000; mono += 200) replay.tick(mono)
    expect(replay.at()).toBe(from)
    expect(replay.summary().waits).toBe('The recording is being read.')
  })

  it('names whole milliseconds, at whatever speed and however ticks fall', async () => {
    const replay = await at(momentAt(60).at)
    replay.control({ isPaused: false, speed: 0.25 })
    for (let i = 1; i < 30; i++) {
      replay.tick(1000 + i * 33.7)
      expect(Number.isInteger(replay.at())).toBe(true)
    }
    expect(replay.at()).toBeGreaterThan(momentAt(60).at)
  })

  it('says why it does not go on when the history cannot be read', async () => {
    const { live, moments, end } = recording
    const broken = { samples: () => Promise.reject(new Error('the disk is gone')) }
    const replay = createReplay({
      id: 3,
      plant: live.plant,
      history: broken,
      from: moments[0]!.at,
      to: end,
      by: 'A',
    })
    await expect.poll(() => replay.summary().waits).toMatch('the disk is gone')
  })

  it('reads a bounded stretch ahead, however long the span', async () => {
    const { live } = recording
    let asked = 0
    const history = {
      samples: async (query: { signals: readonly string[]; from: number; to: number }) => {
        asked++
        const count = Math.floor((query.to - query.from) / 1000)
        return {
          signal: new Uint16Array(count),
          at: Float64Array.from({ length: count }, (_, i) => query.from + i * 1000),
          value: new Float64Array(count),
          quality: new Uint8Array(count),
          through: query.to,
        }
      },
    }
    const replay = createReplay({
      id: 4,
      plant: live.plant,
      history,
      from: MINUTE,
      to: 30 * 24 * 60 * MINUTE,
      by: 'A',
    })
    await expect.poll(() => asked).toBeGreaterThanOrEqual(5)
    await new Promise((resolve) => setImmediate(resolve))
    expect(replay.waiting()).toBeLessThanOrEqual(6 * 60)
  })
})
