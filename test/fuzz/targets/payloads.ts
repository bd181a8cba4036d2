import fc from 'fast-check'
import { benchWith, type IngestBench, plantWith } from '../../server/ingest/ingestBench.ts'
import { NOON } from '../../server/ingest/steppedClock.ts'
import { damagedBytes, jsonRubbish, rubbish, word } from '../rubbish.ts'
import { demand, opened, type Target } from '../target.ts'

/** A payload may carry the time of its measurement, at most so far ahead [ms]; server/ingest/quality.ts. */
const AHEAD_MS = 5000
const LONGEST = 65_536

const bytesOf = (texts: fc.Arbitrary<string>) => texts.map((text) => Buffer.from(text))

const number = fc.oneof(
  fc.double().map(String),
  fc.string({
    unit: fc.constantFrom('1', '0', '9', '.', '-', '+', 'e', 'E', ' ', ',', 'x', '_', '\n'),
    maxLength: 24,
  }),
  rubbish,
)

const leaf = fc.oneof(jsonRubbish, number, fc.double({ noNaN: true, noDefaultInfinity: true }))
/** What the instruments below look for, sometimes as samples in a row, sometimes something else. */
const document = fc.oneof(
  fc.record(
    { v: leaf, t: fc.oneof(fc.integer({ min: NOON - 1e6, max: NOON + 1e5 }), leaf), p: leaf, u: leaf },
    { requiredKeys: [] },
  ),
  fc.record(
    { v: fc.array(fc.oneof(leaf, fc.tuple(leaf, leaf)), { maxLength: 6 }), t: leaf },
    { requiredKeys: ['v'] },
  ),
  fc.record({ v: fc.constantFrom(1, [1, 2]) }),
  jsonRubbish,
)
const json = fc.oneof(
  document.map((value) => JSON.stringify(value) ?? ''),
  fc.nat(30_000).map((depth) => `${'['.repeat(depth)}1`),
  fc.tuple(word, word).map(([a, b]) => `{"v":1,"v":2,"${a}":{"${b}":[]}}`),
)

const piece = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.constantFrom(
      'm',
      'f',
      'f=1',
      'v=2.5i',
      ',',
      '=',
      ' ',
      '"',
      '\\',
      '\n',
      '#',
      't=a',
      '1790000000000',
      'true',
      '"x y"',
      '1u',
      '-',
      '\r',
    ),
  },
  { weight: 1, arbitrary: rubbish },
)
const lines = fc.oneof(
  fc.array(piece, { maxLength: 20 }).map((pieces) => pieces.join('')),
  fc.tuple(rubbish, number, number).map(([tag, value, time]) => `m,t=${tag} f=${value} ${time}`),
  fc
    .tuple(piece, fc.nat(LONGEST))
    .map(([text, length]) => text.repeat(Math.ceil(length / Math.max(1, text.length))).slice(0, length)),
)

interface Packet {
  payload: Buffer
  retained: boolean
  /** Time since the one before [ms]. */
  after: number
}

/** A target for one way to write values. A case is a packet to instruments that one bench has all along. */
function payloadTarget(name: string, instruments: readonly string[], texts: fc.Arbitrary<string>): Target {
  return {
    name,
    share: 0.17,
    open() {
      const bench = benchWith(plantWith(...instruments.map((one, i) => `id: i${i}, topic: t, ${one}`)))
      return opened<Packet>({
        cases: fc.record({
          payload: fc.oneof(
            damagedBytes(bytesOf(texts)),
            bytesOf(texts),
            bytesOf(rubbish),
            fc.uint8Array({ maxLength: 60 }).map(Buffer.from),
          ),
          retained: fc.boolean(),
          after: fc.constantFrom(0, 1, 1000),
        }),
        run: (packet) => takePacket(bench, packet),
      })
    },
  }
}

function takePacket(bench: IngestBench, { payload, retained, after }: Packet): void {
  bench.clock.step(after)
  const before = bench.ingest.counters()
  const readings = bench.send('t', payload, { retained })
  const now = bench.ingest.counters()
  bench.readings.length = 0
  const outcomes = (all: typeof now) => all.readings + all.faults + all.duplicates
  demand(outcomes(now) > outcomes(before), () => 'the packet gave neither a reading nor a fault')
  for (const reading of readings) {
    const { value, peak, measuredAt, quality, reasons } = reading
    const isSound = Number.isFinite(value) && Number.isFinite(measuredAt) && Number.isFinite(peak ?? 0)
    demand(isSound, () => `a reading that is none: ${JSON.stringify({ ...reading, value: String(value) })}`)
    demand(measuredAt <= bench.clock.now() + AHEAD_MS, () => `a reading from the future: ${measuredAt}`)
    demand((quality === 'good') === (reasons.length === 0), () => `quality ${quality} with ${reasons}`)
  }
}

const JSON_PAYLOAD = 'unit: m, range: [0, 1]'

export const payloadTargets: readonly Target[] = [
  payloadTarget('number', ['unit: m, range: [0, 1]', 'unit: Cel'], number),
  payloadTarget(
    'json',
    [
      `${JSON_PAYLOAD}, payload: { format: json, value: /v, time: /t, timeUnit: ms, peak: /p }`,
      `${JSON_PAYLOAD}, payload: { format: json, value: /v/0 }`,
      `${JSON_PAYLOAD}, payload: { format: json, value: /__proto__/x, time: /t, timeUnit: iso }`,
    ],
    json,
  ),
  payloadTarget(
    'lineProtocol',
    [
      'unit: m, payload: { format: lineProtocol, measurement: m, field: f, timeUnit: ms }',
      'unit: m, payload: { format: lineProtocol, measurement: m, field: v, tags: { t: a }, timeUnit: ns }',
    ],
    lines,
  ),
  payloadTarget(
    'scale',
    [
      'unit: m, range: [0, 10], scale: { kind: loop }',
      'unit: m, scale: { kind: linear, factor: 1e300, offset: -1e300 }',
      'unit: m, range: [0, 3], scale: { kind: points, from: [0, 512, 1023], to: [0, 1.1, 2.4] }',
    ],
    number,
  ),
]
