import { exampleOf, type Format, type LineProtocolSetting, type Sample } from './format.ts'
import { type LinePoint, parseLine } from './linePoint.ts'
import { readTime } from './time.ts'

const decoder = new TextDecoder('utf-8', { fatal: true })

/**
 * The payload is line protocol, one or several lines. Lines of another measurement, tag set or without the field
 * are not ours and are passed over; a payload in which none is ours is a fault.
 */
export const lineProtocol: Format<LineProtocolSetting> = {
  decode(payload, setting) {
    const expected = `line protocol with ${setting.measurement} … ${setting.field}=NUMBER`
    const lines = linesOf(payload)
    if (!lines) return { found: 'payload is not UTF-8 text', expected }
    const samples: Sample[] = []
    for (const line of lines) {
      const point = parseLine(line)
      if ('fault' in point) return { found: `line "${line.slice(0, 120)}": ${point.fault}`, expected }
      const sample = isOurs(point, setting) ? sampleOf(point, setting) : undefined
      if (sample && 'found' in sample) return { ...sample, expected }
      if (sample) samples.push(sample)
    }
    if (samples.length > 0) return samples
    return { found: `payload is "${exampleOf(payload)}"`, expected }
  },
}

function linesOf(payload: Uint8Array): string[] | undefined {
  try {
    const text = decoder.decode(payload)
    return text.split(/\r?\n/).filter((line) => line.trim() !== '' && !line.startsWith('#'))
  } catch {
    return undefined
  }
}

function isOurs(point: LinePoint, { measurement, field, tags }: LineProtocolSetting): boolean {
  return (
    point.measurement === measurement &&
    point.fields.has(field) &&
    Object.entries(tags).every(([key, value]) => point.tags.get(key) === value)
  )
}

function sampleOf(point: LinePoint, { field, timeUnit }: LineProtocolSetting): Sample | { found: string } {
  const raw = point.fields.get(field)!
  const value = typeof raw === 'boolean' ? Number(raw) : raw
  if (typeof value !== 'number') return { found: `field "${field}" is "${value.slice(0, 80)}" (text)` }
  if (point.time === undefined) return { value }
  return { value, at: readTime(point.time, timeUnit) }
}
