import { describe, expect, it } from 'vitest'
import type { AgreementReply } from '../../../../server/wire/agreement.ts'
import { playPlant } from '../../../support/playedPlant.ts'
import { type RecordedPlant, readRecording, recordPlant } from '../../../support/recordedRig.ts'

const rig = recordPlant('quennerby', { seed: 1, settle: 10, seconds: 21 })
const judge = (seed: number, instrument?: string, of: RecordedPlant = rig): AgreementReply =>
  readRecording(of, {
    seed,
    ...(instrument === undefined ? {} : { fault: { instrument, kind: 'gain' } }),
  }).agreement.reply()

/** Counts over few seeds only: `npm run bench` has the rates over hundreds. */
describe('the agreement of the instruments of the simulated rig', () => {
  it('agrees while every instrument keeps to its class, in all of 20 seeds', () => {
    const states = Array.from({ length: 20 }, (_, i) => judge(i + 1).state)
    expect(states).toEqual(states.map(() => 'agrees'))
  })

  it.each([
    ['discharge'],
    ['manifold-pressure'],
    ['torque'],
    ['phase-voltage-1'],
    ['phase-current-2'],
    ['active-power'],
    ['rectifier-voltage'],
  ])(
    'names %s, or it and one more, when it reads three per cent high, in at least 9 of 10 seeds',
    (instrument) => {
      const found = Array.from({ length: 10 }, (_, i) => judge(i + 1, instrument).suspects).filter(
        (suspects) => suspects.length <= 2 && suspects.some(({ id }) => id === instrument),
      )
      expect(found.length).toBeGreaterThanOrEqual(9)
    },
  )

  it('says in words what is wrong, and by how much', () => {
    const { sentence, suspects } = judge(1, 'manifold-pressure')
    expect(sentence).toMatch(/^Manifold pressure reads about [234](\.\d)? % high\.$/)
    expect(suspects[0]).toMatchObject({
      kind: 'instrument',
      id: 'manifold-pressure',
      name: 'Manifold pressure',
    })
  })

  it('brings the reading of a faulty instrument back towards the truth', () => {
    const { instruments } = judge(1, 'manifold-pressure')
    const { measured, reconciled } = instruments.find((one) => one.instrument === 'manifold-pressure')!
    const truth = rig.steps.at(-1)!.get('inletPressure')!
    expect(Math.abs(reconciled.value! - truth)).toBeLessThan(0.5 * Math.abs(measured.value! - truth))
    expect(Math.abs(reconciled.value! - truth)).toBeLessThan(reconciled.u95!)
  })

  it('does not judge before it has seen fifteen seconds of one setting', () => {
    const plant = playPlant('quennerby', { seed: 3 })
    plant.run(10)
    expect(plant.live.agreement.line().state).toBe('notJudged')
    plant.run(12)
    expect(plant.live.agreement.line().state).toBe('agrees')
    plant.site.command('jet-4', false)
    plant.run(5)
    expect(plant.live.agreement.line().state).toBe('notJudged')
  })

  it('accuses nobody while jets and loads are switched and after the rig has settled again', () => {
    const plant = playPlant('quennerby', { seed: 4 })
    plant.run(25)
    const seen = new Set<string>()
    for (const [control, value] of [
      ['jet-4', false],
      ['heater', false],
      ['jet-3', false],
      ['jet-4', true],
      ['lamps', 1],
    ] as const) {
      plant.site.command(control, value)
      for (let second = 0; second < 30; second++) {
        plant.run(1)
        seen.add(plant.live.agreement.line().state)
      }
    }
    expect([...seen].sort()).toEqual(['agrees', 'notJudged'])
  })

  it('suspects nobody when the tachometer is lost: what cannot be compared is left out', () => {
    const plant = playPlant('quennerby', { seed: 5 })
    plant.run(5)
    plant.site.command('fault', 'speed:lost')
    plant.run(30)
    const { state, relations } = plant.live.agreement.reply()
    expect(state).toBe('agrees')
    expect(relations.find(({ id }) => id === 'frequencyResidual')!.deviate).toBeNull()
  })
})

describe('the agreement of the instruments of a real plant', () => {
  it.each(['ostrelby', 'skelderwath'])(
    'agrees at %s while its instruments keep to their class, in 6 seeds',
    (id) => {
      const recorded = recordPlant(id, { seed: 2, settle: 20, seconds: 40 })
      const replies = Array.from({ length: 6 }, (_, i) => judge(i + 1, undefined, recorded))
      expect(replies.map(({ state }) => state)).toEqual(replies.map(() => 'agrees'))
      expect(replies[0]!.relations.filter(({ deviate }) => deviate !== null).length).toBeGreaterThanOrEqual(4)
    },
  )
})
