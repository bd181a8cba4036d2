/** A plant of a few instruments with an over-speed alarm at 110 % of 1500 /min, and whom it tells by webhook. */
export function millPlant(instruments: readonly string[], { latching = false } = {}): string {
  return `
headrace: 1
id: mill
name: Mill
use: offGrid
site: { timeZone: UTC }
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 15 kW }
instruments:
${instruments.map((one) => `  - { ${one} }`).join('\n')}
alarms:
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high, latching: ${latching} }
`
}

export const FAST_TACHO = 'id: tacho, role: speed, topic: mill/speed, unit: /min, period: 20 ms'

/** A power meter with the time in its payload, and a tachometer. */
export function powerAndSpeed(period: string): string[] {
  return [
    `id: meter, role: activePower, topic: mill/power, unit: kW, period: ${period}, payload: { format: json, value: /kw, time: /at }`,
    'id: tacho, role: speed, topic: mill/speed, unit: /min',
  ]
}

export function millNotify(url: string): string {
  return `headraceNotify: 1
timeZone: UTC
channels: [{ id: hook, kind: webhook, url: "${url}" }]
recipients: [{ id: desk, name: Desk, by: [{ channel: hook }] }]
rules: [{ to: [desk], priorities: [high] }]
`
}
