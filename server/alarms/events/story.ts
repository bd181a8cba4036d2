import type { EventChannel, EventRecord } from '../../wire/event.ts'
import { fromSi, unitOf } from '../../wire/units.ts'

/**
 * What happened, in sentences for somebody who was not there: how fast, what came first, what stood how before, what
 * tripped, how long it was above its levels, how it ended.
 */
export function tellEvent(event: EventRecord, timeZone: string): string[] {
  const clock = clockOf(timeZone)
  return [
    headline(event, clock),
    firstOut(event, clock),
    before(event),
    tripped(event),
    above(event),
    after(event),
    event.status === 'cut' ? 'The server ended before the record did: what followed is not known.' : '',
  ].filter((sentence) => sentence !== '')
}

type ClockText = (at: number) => string

function headline({ name, at, peak }: EventRecord, clock: ClockText): string {
  if (!peak) return `${name} at ${clock(at)}.`
  const share = peak.share === null ? '' : `${Math.round(peak.share * 100)} % `
  return `${name}: peak ${share}(${perMinute(peak.speed)}) at ${clock(peak.at)}, told by ${peak.witness}.`
}

function firstOut({ order }: EventRecord, clock: ClockText): string {
  const came = order.filter((step) => step.came)
  const [first, ...rest] = came.filter((step, i) => came.findIndex((one) => one.alarm === step.alarm) === i)
  if (!first) return ''
  const then = rest.slice(0, 4).map((one) => `${one.name} ${seconds(one.at - first.at)} later`)
  const more = rest.length > 4 ? ` and ${rest.length - 4} more` : ''
  const followed = then.length === 0 ? '' : `; then ${then.join(', ')}${more}`
  return `First out: ${first.name} at ${clock(first.at)}${followed}.`
}

function before({ channels }: EventRecord): string {
  const power = channels.find((one) => one.quantity === 'activePower')
  const made = power && valueAt(power, -1000)
  const states = channels.filter(isSetting).flatMap((one) => stateText(one, -1000))
  const parts = [...(made === undefined ? [] : [`${watts(made)} made`]), ...states]
  return parts.length === 0 ? '' : `One second before: ${parts.join(', ')}.`
}

/** Load, grid and jets, not what reacts to them. */
function isSetting({ discrete, quantity }: EventChannel): boolean {
  return discrete && ['gridConnected', 'jetOpen', 'loadOn'].includes(quantity.split('.')[0]!)
}

function stateText(channel: EventChannel, at: number): string[] {
  const value = valueAt(channel, at)
  return value === undefined ? [] : [`${channel.name.toLowerCase()}: ${value >= 0.5 ? 'yes' : 'no'}`]
}

function tripped({ channels }: EventRecord): string {
  const trips = channels
    .filter(({ quantity }) => ['tripped', 'emergencyStop', 'deflector'].includes(quantity.split('.')[0]!))
    .flatMap((channel) => {
      const rise = channel.value.findIndex((one, i) => one >= 0.5 && i > 0 && channel.value[i - 1]! < 0.5)
      return rise < 0 ? [] : [{ name: channel.name, at: channel.at[rise]! }]
    })
    .sort((a, b) => a.at - b.at)
  if (trips.length === 0) return 'No protection contact changed within the record.'
  return `${trips.map(({ name, at }) => `${name} ${offset(at)}`).join('; ')}.`
}

function above({ levels }: EventRecord): string {
  const reached = levels.filter((one) => one.seconds > 0)
  if (reached.length === 0) return ''
  const times = reached.map(({ share, seconds: s }) => `${Math.round(share * 100)} % for ${s.toFixed(2)} s`)
  return `At or above ${times.join(', ')}.`
}

function after({ channels, at, to, status, peak }: EventRecord): string {
  if (status === 'begun') return 'Still being recorded.'
  const speed = channels.find((one) => one.quantity === 'speed')
  const last = speed?.value.at(-1)
  if (last === undefined) return peak ? 'The tachometer said nothing.' : ''
  return `${seconds(to - at)} after the alarm the tachometer said ${perMinute(last)}.`
}

/** The last value at or before a time. */
function valueAt({ at, value }: EventChannel, time: number): number | undefined {
  let found: number | undefined
  for (let i = 0; i < at.length && at[i]! <= time; i++) found = value[i]!
  return found
}

function offset(ms: number): string {
  return ms < 0 ? `${seconds(-ms)} before the alarm` : `${seconds(ms)} after it`
}

function seconds(ms: number): string {
  return `${(ms / 1000).toFixed(ms < 10_000 ? 2 : 0)} s`
}

function perMinute(speed: number): string {
  return `${Math.round(fromSi(speed, unitOf('/min')))} min⁻¹`
}

function watts(value: number): string {
  const unit = unitOf(Math.abs(value) >= 10_000 ? 'kW' : 'W')
  return `${Number(fromSi(value, unit).toPrecision(3))} ${unit.print}`
}

function clockOf(timeZone: string): ClockText {
  const format = new Intl.DateTimeFormat('en-GB', {
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    fractionalSecondDigits: 2,
    timeZone,
  })
  return (at) => format.format(at)
}
