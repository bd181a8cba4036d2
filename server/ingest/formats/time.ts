/** Milliseconds per unit of a time stamp. */
const FACTORS = { s: 1000, ms: 1, us: 1e-3, ns: 1e-6 } as const

/**
 * A time stamp as milliseconds since 1970 UTC; NaN where it is none.
 *
 * @param raw Number or text of a number in `unit`, or for "iso" a text by ISO 8601 with a zone.
 * Limits: nanoseconds beyond 2⁵³ lose their last digits, far below a millisecond.
 */
export function readTime(raw: unknown, unit: keyof typeof FACTORS | 'iso'): number {
  if (unit === 'iso') {
    const hasZone = typeof raw === 'string' && /(?:Z|[+-]\d\d:?\d\d)$/.test(raw)
    return hasZone ? Date.parse(raw) : Number.NaN
  }
  if (typeof raw === 'number') return raw * FACTORS[unit]
  return typeof raw === 'string' && /^-?\d+(\.\d+)?$/.test(raw) ? Number(raw) * FACTORS[unit] : Number.NaN
}
