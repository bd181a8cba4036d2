import type { PayloadFile } from '../../plant/schema.ts'
import { amountExpected, amountOf } from './amount.ts'
import type { Fault, Format, Sample } from './format.ts'
import { type LineFault, type LinePoint, parseLines } from './lineParser.ts'
import { exampleOf, shownValue, textOf } from './payloadText.ts'
import { timeOf } from './timeStamp.ts'

type LineSettings = Extract<PayloadFile, { format: 'lineProtocol' }>

/** The lines of a payload; at least one point. */
interface Lines {
  points: readonly LinePoint[]
  faults: readonly LineFault[]
}

/**
 * Line protocol, one or several lines. An instrument takes the points that have its measurement, its field and all
 * its tags; points for others are passed over. A line that is none is a fault and leaves the others untouched.
 */
export const lineProtocol: Format<LineSettings, Lines> = {
  parse(payload) {
    const { points, faults } = parseLines(textOf(payload))
    if (points.length > 0) return { document: { points, faults } }
    const [first] = faults
    const found = `payload is "${exampleOf(payload, 60)}"${first ? `: ${first.found}` : ''}`
    return { fault: { found, expected: first?.expected ?? 'a line of line protocol' } }
  },

  picker(settings, instrument) {
    const tags = Object.entries(settings.tags)
    const isOurs = (point: LinePoint) =>
      point.measurement === settings.measurement &&
      point.fields.has(settings.field) &&
      tags.every(([key, value]) => point.tags.get(key) === value)
    return ({ points, faults }) => {
      const samples: Sample[] = []
      let fault: Fault | undefined = faults[0] && broken(faults, points)
      for (const point of points) {
        if (!isOurs(point)) continue
        const found = point.fields.get(settings.field)!
        const value = amountOf(found, instrument)
        if (value === undefined)
          fault = {
            found: `field "${settings.field}" is ${shownValue(found)}`,
            expected: amountExpected(instrument),
          }
        else samples.push(sampleOf(value, point.time, settings))
      }
      return { samples, ...(fault ? { fault } : {}), absent: absent(settings) }
    }
  },
}

function sampleOf(value: number, time: string | undefined, { timeUnit }: LineSettings): Sample {
  const at = time === undefined ? undefined : timeOf(Number(time), timeUnit)
  return at === undefined ? { value } : { value, at }
}

function broken(faults: readonly LineFault[], points: readonly LinePoint[]): Fault {
  const more = faults.length > 1 ? ` (and ${faults.length - 1} more lines)` : ''
  return {
    found: `${faults[0]!.found}${more}`,
    expected: faults[0]!.expected,
    kept: `The other ${points.length} lines were kept.`,
  }
}

function absent({ measurement, field, tags }: LineSettings): Fault {
  const wanted = Object.entries(tags).map(([key, value]) => `,${key}=${value}`)
  return {
    found: 'payload has no point for any instrument of this topic',
    expected: `"${measurement}${wanted.join('')} ${field}=…"`,
  }
}
