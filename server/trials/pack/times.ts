/** Times for people, in the zone of the plant. */

/** "2026-11-25". */
export function dayText(at: number, timeZone: string): string {
  const { year, month, day } = partsOf(at, timeZone)
  return `${year}-${month}-${day}`
}

/** "2026-11-25 14:03:20". */
export function timeText(at: number, timeZone: string): string {
  const { hour, minute, second } = partsOf(at, timeZone)
  return `${dayText(at, timeZone)} ${hour}:${minute}:${second}`
}

function partsOf(at: number, timeZone: string): Record<string, string> {
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    hourCycle: 'h23',
  })
  return Object.fromEntries(format.formatToParts(at).map(({ type, value }) => [type, value]))
}
