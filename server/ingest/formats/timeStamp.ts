export type TimeUnit = 's' | 'ms' | 'us' | 'ns' | 'iso'

const MS_PER: Record<Exclude<TimeUnit, 'iso'>, number> = { s: 1000, ms: 1, us: 1e-3, ns: 1e-6 }
/** ISO 8601 with the distance to UTC, without which nobody knows which time is meant. */
const ISO = /^\d{4}-\d\d-\d\d[Tt ]\d\d:\d\d(?::\d\d(?:[.,]\d+)?)?(?:[Zz]|[+-]\d\d:?\d\d)$/

/** A time stamp of a payload in ms since 1970 UTC; undefined where it is none. */
export function timeOf(stamp: unknown, unit: TimeUnit): number | undefined {
  if (unit !== 'iso') return typeof stamp === 'number' ? finite(stamp * MS_PER[unit]) : undefined
  if (typeof stamp !== 'string' || !ISO.test(stamp)) return undefined
  return finite(Date.parse(normal(stamp)))
}

/** The one form that Date.parse must read on every engine (ECMA-262). */
function normal(iso: string): string {
  return iso
    .toUpperCase()
    .replace(' ', 'T')
    .replace(',', '.')
    .replace(/([+-]\d\d)(\d\d)$/, '$1:$2')
}

function finite(ms: number): number | undefined {
  return Number.isFinite(ms) ? ms : undefined
}
