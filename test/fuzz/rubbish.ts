import fc from 'fast-check'

/** Words that have broken programs of this kind, and some that are none of their business. */
const WORDS = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  '',
  ' ',
  '\0',
  '\r\n',
  '\u2028',
  '\ud800',
  'ü',
  '💧',
  'NaN',
  '-Infinity',
  '1e999',
  '-0',
  '1e-400',
  '9007199254740993',
  '18446744073709551616',
  '2026-02-30T25:61:61Z',
  '../../../etc/passwd',
  '%2e%2e%2f',
  "' OR 1=1 --",
  '{{7*7}}',
  '<script>alert(1)</script>',
  '=1+1',
  '#',
  '+/+/#',
  '$SYS/x',
  'x'.repeat(300),
  '9'.repeat(400),
  '('.repeat(120),
]

export const word: fc.Arbitrary<string> = fc.constantFrom(...WORDS)

export const rubbish: fc.Arbitrary<string> = fc.oneof(
  word,
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.string({ unit: 'grapheme-ascii', maxLength: 30 }),
  fc.double().map(String),
  fc.integer().map(String),
)

/** Any value that JSON can hold, rubbish at its leaves and as its keys. */
export const jsonRubbish: fc.Arbitrary<unknown> = fc.letrec<{ value: unknown }>((tie) => ({
  value: fc.oneof(
    { depthSize: 'small', maxDepth: 4 },
    rubbish,
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.integer(),
    fc.constantFrom(null, true, false, 0, -1, [], {}),
    fc.array(tie('value'), { maxLength: 4 }),
    fc.dictionary(rubbish, tie('value'), { maxKeys: 4 }),
  ),
})).value

/** One change of a text: at a place (a share of its length), so many letters go and these come. */
interface Change {
  at: number
  takes: number
  puts: string
}

const change: fc.Arbitrary<Change> = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  takes: fc.oneof(fc.constantFrom(0, 1), fc.nat(12)),
  puts: fc.oneof(fc.constant(''), fc.string({ maxLength: 3 }), rubbish),
})

/** The texts, most of them with a few places changed. */
export function damaged(texts: fc.Arbitrary<string>, most = 4): fc.Arbitrary<string> {
  return fc.tuple(texts, fc.array(change, { maxLength: most })).map(([text, changes]) =>
    changes.reduce((left, { at, takes, puts }) => {
      const place = Math.floor(at * left.length)
      return left.slice(0, place) + puts + left.slice(place + takes)
    }, text),
  )
}

/** The same for bytes. */
export function damagedBytes(bytes: fc.Arbitrary<Uint8Array>, most = 4): fc.Arbitrary<Buffer> {
  const texts = bytes.map((one) => Buffer.from(one).toString('latin1'))
  return damaged(texts, most).map((text) => Buffer.from(text, 'latin1'))
}
