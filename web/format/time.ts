const formatters = new Map<string, Intl.DateTimeFormat>()

/** Making a formatter takes far longer than using it, and charts use them often. */
export function formatter(
  zone: string,
  options: Intl.DateTimeFormatOptions,
  language = 'en-GB',
): Intl.DateTimeFormat {
  const key = zone + language + JSON.stringify(options)
  const known = formatters.get(key)
  if (known) return known
  const made = new Intl.DateTimeFormat(language, { ...options, timeZone: zone, hourCycle: 'h23' })
  formatters.set(key, made)
  return made
}

export const CLOCK = { hour: '2-digit', minute: '2-digit', second: '2-digit' } as const

/** "14:07:31" in the plant's zone. */
export function clockTime(at: number, zone: string): string {
  return formatter(zone, CLOCK).format(at)
}

/** "14:07" in the plant's zone. */
export function hourMinute(at: number, zone: string): string {
  return formatter(zone, { hour: '2-digit', minute: '2-digit' }).format(at)
}

/** "Tue 25" in the plant's zone. */
export function weekdayDay(at: number, zone: string): string {
  return formatter(zone, { weekday: 'short', day: 'numeric' }).format(at)
}

/** "25 Nov 2026, 14:07:31 GMT": names the zone, so that the repeated autumn hour cannot be mistaken. */
export function dateTime(at: number, zone: string): string {
  return formatter(zone, {
    ...CLOCK,
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    timeZoneName: 'short',
  }).format(at)
}

/** "25 Nov, 14:07:31" for lists whose zone is named beside them. */
export function dayTime(at: number, zone: string): string {
  return formatter(zone, { ...CLOCK, day: 'numeric', month: 'short' }).format(at)
}

/** "GMT" or "BST": the zone's short name at that moment. */
export function zoneName(at: number, zone: string): string {
  const parts = formatter(zone, { timeZoneName: 'short' }).formatToParts(at)
  return parts.find((part) => part.type === 'timeZoneName')?.value ?? zone
}

/** The zone of the person who looks, for screens that belong to no plant. */
export const localZone = Intl.DateTimeFormat().resolvedOptions().timeZone
