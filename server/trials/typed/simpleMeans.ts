import type { SimpleReading, TypedMeans } from '../../wire/point.ts'
import { findUnit, isConvertible, toSi, unitOf } from '../../wire/units.ts'

/** A product or quotient of two readings. */
interface Rule {
  figure: string
  first: { name: string; unit: string }
  second: { name: string; unit: string }
  join: (first: number, second: number) => number
}

/**
 * Bucket and watch: Q = V/t. Spring balance on an arm: T = F·r. For both u²(y)/y² = u²(a)/a² + u²(b)/b².
 *
 * Limits: the watch is started and stopped with the stream already running; the force is what the brake holds, the
 * difference of both balances where there are two.
 * Source: definitions; JCGM 100:2008, 5.1.6.
 */
const RULES: Record<TypedMeans, Rule> = {
  bucket: {
    figure: 'discharge',
    first: { name: 'volume', unit: 'm3' },
    second: { name: 'time', unit: 's' },
    join: (volume, time) => volume / time,
  },
  springBalance: {
    figure: 'torque',
    first: { name: 'force', unit: 'N' },
    second: { name: 'arm', unit: 'm' },
    join: (force, arm) => force * arm,
  },
}

export type ReadMeans =
  | { value: number; u: number }
  | { fault: { path: string; received: string; expected: string } }

/** Ways of reading `figure` with simple means. */
export function meansFor(figure: string): TypedMeans[] {
  return (Object.keys(RULES) as TypedMeans[]).filter((means) => RULES[means].figure === figure)
}

/** Value and standard uncertainty, SI, of what was read with a bucket and a watch, or a spring balance. */
export function readMeans({ means, first, second }: SimpleReading, path: string): ReadMeans {
  const rule = RULES[means]
  const a = inSi(first, rule.first.unit)
  const b = inSi(second, rule.second.unit)
  if (!a) return faultOf(`${path}.first`, first, rule.first)
  if (!b || b.value === 0) return faultOf(`${path}.second`, second, rule.second)
  const value = rule.join(a.value, b.value)
  return { value, u: Math.hypot(rule.join(a.u, b.value), (value * b.u) / b.value) }
}

function faultOf(path: string, { value, unit }: SimpleReading['first'], wanted: Rule['first']): ReadMeans {
  const expected = `a ${wanted.name} above zero in a unit such as ${wanted.unit}`
  return { fault: { path, received: `${value} ${unit}`, expected } }
}

function inSi({ value, unit, u = 0 }: SimpleReading['first'], wanted: string) {
  const given = findUnit(unit)
  if (!given || !isConvertible(given, unitOf(wanted)) || !Number.isFinite(value) || value < 0)
    return undefined
  return { value: toSi(value, given), u: u * given.factor }
}
