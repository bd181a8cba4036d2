import { describe, expect, it } from 'vitest'
import type { Instrument } from '../../server/plant/plant.ts'
import { toSi } from '../../server/wire/units.ts'
import type { OutMessage } from '../../simulator/publish/encode.ts'
import { createSite } from '../../simulator/site.ts'
import { BUNDLED } from '../../simulator/siteFile.ts'
import { START } from '../support/manualClock.ts'
import { idealSite, PER_MINUTE, run, set } from './settle.ts'

/** Payload on a topic, as text. */
function payloadOn(messages: readonly OutMessage[], topic: string): string {
  const message = messages.find((one) => one.topic === topic)
  if (!message) throw new Error(`nothing on ${topic}`)
  return message.payload
}

/** A second reader of the three formats, apart from the server's; only what the bundled plant files use. */
function read(text: string, { payload }: Instrument): { value: number; at?: number } {
  if (payload === 'number') return { value: Number(text) }
  if (payload.format === 'json') {
    const document: unknown = JSON.parse(text)
    const value = atPointer(document, payload.value) as number
    if (payload.time === undefined) return { value }
    return { value, at: new Date(atPointer(document, payload.time) as number | string).getTime() }
  }
  const [head, fields, time] = text.split(' ') as [string, string, string]
  const tags = Object.entries(payload.tags).map(([key, one]) => `,${key}=${one}`)
  expect(head).toBe([payload.measurement, ...tags].join(''))
  const field = fields.split(',').find((one) => one.startsWith(`${payload.field}=`))!
  // ns or ms: the first 13 digits are milliseconds until the year 2286
  return { value: Number(field.split('=')[1]), at: Number(time.slice(0, 13)) }
}

function atPointer(document: unknown, pointer: string): unknown {
  let value = document
  for (const key of pointer.split('/').slice(1)) value = (value as Record<string, unknown>)[key]
  return value
}

function scaled({ scale, range }: Instrument, x: number): number {
  if (scale === undefined) return x
  if (scale.kind === 'loop') return range![0] + ((x - 4) / 16) * (range![1] - range![0])
  if (scale.kind === 'linear') return scale.factor * x + scale.offset
  const i = Math.max(
    1,
    scale.from.findIndex((one) => one >= x),
  )
  const share = (x - scale.from[i - 1]!) / (scale.from[i]! - scale.from[i - 1]!)
  return scale.to[i - 1]! + share * (scale.to[i]! - scale.to[i - 1]!)
}

describe.each(BUNDLED)('what %s publishes', (id) => {
  it('is in the format of the plant file, and is the truth where the instruments are ideal', () => {
    const site = idealSite(id)
    run(site, 10)
    const messages = site.messages(START)
    const truth = site.truth()
    for (const instrument of site.plant.instruments) {
      const { value, at } = read(payloadOn(messages, instrument.topic), instrument)
      const expected = truth.get(instrument.quantity)!
      const si = toSi(scaled(instrument, value), instrument.unit)
      expect(Math.abs(si - expected), instrument.id).toBeLessThanOrEqual(1e-7 * Math.abs(expected) + 1e-9)
      if (at !== undefined) expect(at, instrument.id).toBe(START)
    }
  })

  it('comes at the period of each instrument, contacts once and retained', () => {
    const site = createSite(id)
    const counts = new Map<string, number>()
    const retained = new Set<string>()
    for (let t = 0; t < 10_000; t += 20) {
      for (const { topic, retain } of site.messages(START + t)) {
        counts.set(topic, (counts.get(topic) ?? 0) + 1)
        if (retain) retained.add(topic)
      }
    }
    for (const { topic, periodMs, periodic } of site.plant.instruments) {
      const expected = periodic ? Math.ceil(10_000 / periodMs) : 1
      // A tick of 20 ms may push the last message out of the window.
      expect(Math.abs(counts.get(topic)! - expected), topic).toBeLessThanOrEqual(periodMs < 20 ? 0 : 1)
      expect(retained.has(topic), topic).toBe(!periodic)
    }
  })

  it('comes in full again when it is asked to start over, e.g. after a connection', () => {
    const site = idealSite(id)
    const all = site.messages(START).map((one) => one.topic)
    expect(site.messages(START + 1).length).toBe(0)
    site.resend()
    expect(site.messages(START + 2).map((one) => one.topic)).toEqual(all)
  })

  it('answers every control on its state topic, retained, in the unit of the control', () => {
    const site = idealSite(id)
    const messages = site.messages(START)
    for (const control of site.plant.simulation!.controls) {
      const message = messages.find((one) => one.topic === control.topic.replace('/command/', '/state/'))!
      expect(message.retain).toBe(true)
      const initial = typeof control.initial === 'boolean' ? Number(control.initial) : control.initial
      expect(message.payload, control.id).toBe(String(initial))
    }
  })
})

describe('messages of the rig', () => {
  const rig = () => {
    const site = idealSite('quennerby')
    run(site, 5)
    return site
  }

  it('carry a loop current: 2.33 bar of 0 … 4 bar is 4 + 16 · 2.3266/4 = 13.306 mA (by hand)', () => {
    expect(Number(payloadOn(rig().messages(START), 'quennerby/manifold/pressure'))).toBeCloseTo(13.306, 2)
  })

  it('carry the peak between two messages, which the value alone would miss', () => {
    const site = rig()
    site.messages(START)
    // The load is gone for a moment: too short for the brake, too short for a slow topic.
    set(site, { charger: false })
    run(site, 0.1)
    set(site, { charger: true })
    run(site, 2)
    const { n, max } = JSON.parse(payloadOn(site.messages(START + 2100), 'quennerby/rotor/speed'))
    expect(max).toBeGreaterThan(1600)
    expect(n).toBeLessThan(1560)
  })

  it('hold the three phases of the meter in one document', () => {
    const meter = JSON.parse(payloadOn(rig().messages(START), 'quennerby/generator/meter'))
    expect(meter).toMatchObject({
      at: START,
      voltage: [expect.any(Number), expect.any(Number), expect.any(Number)],
    })
    expect(meter.power).toBeCloseTo(512.8, 0)
  })

  it('write one line of line protocol for each branch of the battery bus', () => {
    expect(payloadOn(rig().messages(START), 'quennerby/dc/battery')).toMatch(
      /^dc,branch=battery voltage=[\d.]+,current=-?[\d.]+ 1790000000000$/,
    )
  })

  it('are silent or faulty as the fault says', () => {
    const site = rig()
    set(site, { fault: 'manifold-pressure:open' })
    expect(payloadOn(site.messages(START), 'quennerby/manifold/pressure')).toBe('0')
    set(site, { fault: 'pump-delivery-pressure:text' })
    expect(payloadOn(site.messages(START + 10_000), 'quennerby/pump/delivery-pressure')).toBe('fault 7')
  })
})

describe('a command to the rig', () => {
  const topic = (control: string) => `quennerby/simulator/command/${control}`

  it('is obeyed and answered: the jet closes, its contact and its state say so', () => {
    const site = idealSite('quennerby')
    site.messages(START)
    expect(site.receive(topic('jet-2'), '0')).toBeUndefined()
    run(site, 0.2)
    const messages = site.messages(START + 200)
    expect(payloadOn(messages, 'quennerby/jet/2/open')).toBe('0')
    expect(payloadOn(messages, 'quennerby/simulator/state/jet-2')).toBe('0')
  })

  const refused = [
    [
      'head',
      '99',
      'command "head": found "99", expected a number from 8 to 28. The setting stays as it was.',
    ],
    [
      'head',
      'deep',
      'command "head": found "deep", expected a number from 8 to 28. The setting stays as it was.',
    ],
    ['jet-1', 'maybe', 'command "jet-1": found "maybe", expected 1 or 0. The setting stays as it was.'],
    ['scenario', 'comet', 'command "scenario": there is no scenario "comet".'],
  ] as const
  it.each(refused)(
    'for %s with "%s" is refused in a sentence and answered with what holds',
    (control, text, sentence) => {
      const site = idealSite('quennerby')
      const before = payloadOn(site.messages(START), `quennerby/simulator/state/${control}`)
      expect(site.receive(topic(control), text)).toBe(sentence)
      expect(payloadOn(site.messages(START + 1), `quennerby/simulator/state/${control}`)).toBe(before)
    },
  )

  it('for an instrument fault that does not exist names what there is', () => {
    const sentence = idealSite('quennerby').receive(topic('fault'), 'speed:toString')
    expect(sentence).toContain('expected "none" or an instrument and one of stuck, lost')
  })
})

describe('the speed of the rig', () => {
  it('is published in turns per minute though it is radians per second inside', () => {
    const site = idealSite('quennerby')
    const { n } = JSON.parse(payloadOn(site.messages(START), 'quennerby/rotor/speed'))
    expect(n).toBeCloseTo(site.truth().get('speed')! / PER_MINUTE, 3)
  })
})
