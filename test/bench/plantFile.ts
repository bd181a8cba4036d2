import { stringify } from 'yaml'

/** One simulated sensor: its topic and what it publishes. */
export interface Sensor {
  topic: string
  /** Value in the instrument's unit, and how far it wanders to either side. */
  mean: number
  spread: number
}

export const PLANT = 'bench'
export const SPEED_TOPIC = 'bench/speed'
/** Over-speed limit [/min], and what is published above and below it. */
export const OVER_SPEED = { limit: 1800, above: 1900, below: 1500 }

type Row = [role: string, unit: string, mean: number, spread: number]

// the machine of an invented rig: orders of magnitude only
const MEASURED: Row[] = [
  ['speed', '/min', OVER_SPEED.below, 5],
  ['headwaterLevel', 'm', 1.2, 0.01],
  ['tailwaterLevel', 'm', 0.1, 0.01],
  ['inletPressure', 'bar', 2.4, 0.02],
  ['discharge', 'L/s', 4.2, 0.05],
  ['waterTemperature', 'Cel', 12, 0.1],
  ['torque', 'N.m', 4.1, 0.05],
  ['activePower', 'W', 540, 5],
  ['frequency', 'Hz', 50, 0.1],
  ['phaseVoltage.1', 'V', 230, 1],
  ['phaseVoltage.2', 'V', 230, 1],
  ['phaseVoltage.3', 'V', 230, 1],
  ['phaseCurrent.1', 'A', 0.8, 0.02],
  ['phaseCurrent.2', 'A', 0.8, 0.02],
  ['phaseCurrent.3', 'A', 0.8, 0.02],
  ['dcVoltage', 'V', 48, 0.2],
  ['dcCurrent', 'A', 10, 0.2],
  ['batteryVoltage', 'V', 48, 0.1],
  ['batteryCurrent', 'A', 2, 0.1],
  ['bearingTemperature.1', 'Cel', 45, 0.2],
  ['bearingTemperature.2', 'Cel', 45, 0.2],
]
const AUXILIARY = 29

/** The text of a plant file with 50 instruments and an over-speed alarm that neither waits nor latches. */
export function benchPlant(): string {
  return stringify({
    headrace: 1,
    id: PLANT,
    name: 'Bench plant',
    use: 'rig',
    site: { timeZone: 'Etc/UTC', altitude: '100 m' },
    turbine: {
      kind: 'pelton',
      jets: 4,
      pitchDiameter: '0.2 m',
      ratedNetHead: '24 m',
      ratedDischarge: '4.5 L/s',
      ratedSpeed: '1500 /min',
      inletBore: '50 mm',
    },
    generator: { kind: 'permanentMagnet', polePairs: 2, ratedPower: '700 W', ratedSpeed: '1500 /min' },
    instruments: [...MEASURED.map(instrumentOf), ...auxiliaries().map(auxiliaryOf)],
    alarms: [
      {
        id: 'overSpeed',
        name: 'Over-speed',
        kind: 'overSpeed',
        figure: 'speed',
        limit: `${OVER_SPEED.limit} /min`,
        priority: 'high',
      },
    ],
  })
}

/** The sensors of that plant; the speed comes first. */
export function benchSensors(): Sensor[] {
  return [
    ...MEASURED.map(([role, , mean, spread]) => ({ topic: topicOf(role), mean, spread })),
    ...auxiliaries().map((id) => ({ topic: topicOf(id), mean: 20, spread: 1 })),
  ]
}

function instrumentOf([role, unit]: Row) {
  return { id: role.replace('.', '-'), role, topic: topicOf(role), unit }
}

function auxiliaryOf(id: string) {
  return { id, topic: topicOf(id), unit: 'Cel' }
}

function auxiliaries(): string[] {
  return Array.from({ length: AUXILIARY }, (_, i) => `auxiliary-${i + 1}`)
}

function topicOf(id: string): string {
  return `bench/${id.replace('.', '/')}`
}
