import { CLOCK, formatter } from './time.ts'

/** A moment as a field for date and time takes it, in this zone: "2026-11-25T14:07:31". */
export function fieldText(at: number, zone: string): string {
  const fields = { ...CLOCK, year: 'numeric', month: '2-digit', day: '2-digit' } as const
  return formatter(zone, fields, 'sv-SE').format(at).replace(' ', 'T')
}

/**
 * The moment [ms UTC] that a field for date and time names in this zone; null for a text that is none. Of an hour that
 * comes twice the first is meant; one that is left out counts on from the moment before it, as a clock that was not set.
 */
export function readField(text: string, zone: string): number | null {
  const asUtc = Date.parse(`${text}Z`)
  if (Number.isNaN(asUtc)) return null
  const offsetAt = (at: number) => Date.parse(`${fieldText(at, zone)}Z`) - Math.floor(at / 1000) * 1000
  // A day on either side, since zones lie up to 14 h from UTC: a change between them gives both offsets.
  const offsets = [offsetAt(asUtc - 86_400_000), offsetAt(asUtc + 86_400_000)]
  const moments = offsets.map((offset) => asUtc - offset)
  const meant = moments.filter((at) => at + offsetAt(at) === asUtc)
  return meant.length > 0 ? Math.min(...meant) : moments[0]!
}
