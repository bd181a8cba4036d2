/** A plant of the table, with what its instruments send while it runs as it should. */
export interface NastyPlant {
  file: string
  /** By instrument, in the unit of its file; topics are the plant's id and the instrument's. */
  normal: Readonly<Record<string, number>>
}

interface InstrumentLine {
  id: string
  role: string
  unit: string
  more: string
}

/** `PLANT` in a topic is replaced by the id that the plant gets in the table. */
function instrument({ id, role, unit, more }: InstrumentLine): string {
  const topic = `topic: PLANT/${id}`
  return `  - { id: ${id}, role: ${role}, ${topic}, unit: "${unit}"${more === '' ? '' : `, ${more}`} }`
}

function plant(
  sections: string,
  rows: readonly (readonly [string, string, string, number, string?])[],
): NastyPlant {
  const lines = rows.map(([id, role, unit, , more = '']) => instrument({ id, role, unit, more }))
  return {
    file: `${sections.trim()}\ninstruments:\n${lines.join('\n')}\n`,
    normal: Object.fromEntries(rows.map(([id, , , value]) => [id, value])),
  }
}

const SECOND = 'period: 1 s, staleAfter: 5 s'
const ON_CHANGE = 'periodic: false'

/** 90 kW on the public grid: reaction turbine, belt, induction generator of three pole pairs. */
export const GRID = plant(
  `
use: gridTied
site:
  timeZone: Europe/London
  gravity: 9.81 m/s2
  waterDensity: 999.7 kg/m3
  elevations: { turbine: 41.8 m, inletGauge: 42 m, headwaterZero: 60 m, tailwaterZero: 40 m }
turbine:
  kind: crossflow
  draftTube: true
  inletBore: 700 mm
  ratedNetHead: 20 m
  ratedDischarge: 0.6324 m3/s
  ratedSpeed: 355.6 /min
  driveRatio: 2.846
  driveEfficiency: 97 %
generator:
  kind: induction
  polePairs: 3
  ratedPower: 90 kW
  ratedVoltage: 230.9 V
  ratedCurrent: 151 A
  ratedFrequency: 50 Hz
  ratedSpeed: 1012 /min
  efficiencyCurve: [[0.083, 0.78], [0.286, 0.89], [0.75, 0.935], [1.0, 0.935]]
`,
  [
    ['headwater', 'headwaterLevel', 'm', 1.2, `range: [0, 3], accuracy: { absolute: 0.005 }, ${SECOND}`],
    ['tailwater', 'tailwaterLevel', 'm', 1, `range: [0, 3], accuracy: { absolute: 0.005 }, ${SECOND}`],
    ['pressure', 'inletPressure', 'bar', 1.8497, `range: [0, 6], accuracy: { span: 0.25 % }, ${SECOND}`],
    [
      'flow',
      'discharge',
      'm3/s',
      0.62,
      `range: [-1, 1], accuracy: { reading: 2 %, absolute: 0.002 }, ${SECOND}`,
    ],
    ['tacho', 'speed', '/min', 1012, `range: [0, 3000], accuracy: { absolute: 1 }, ${SECOND}`],
    [
      'power',
      'activePower',
      'kW',
      88,
      `range: [-20, 150], accuracy: { reading: 1 %, absolute: 0.05 }, ${SECOND}`,
    ],
    ['frequency', 'frequency', 'Hz', 50, `range: [0, 100], accuracy: { absolute: 0.01 }, ${SECOND}`],
    ['voltage-1', 'phaseVoltage.1', 'V', 230.9, `range: [0, 400], accuracy: { reading: 0.5 % }, ${SECOND}`],
    ['voltage-2', 'phaseVoltage.2', 'V', 230.9, `range: [0, 400], accuracy: { reading: 0.5 % }, ${SECOND}`],
    ['voltage-3', 'phaseVoltage.3', 'V', 230.9, `range: [0, 400], accuracy: { reading: 0.5 % }, ${SECOND}`],
    ['current-1', 'phaseCurrent.1', 'A', 147.7, `range: [0, 250], accuracy: { reading: 1 % }, ${SECOND}`],
    ['current-2', 'phaseCurrent.2', 'A', 147.7, `range: [0, 250], accuracy: { reading: 1 % }, ${SECOND}`],
    ['current-3', 'phaseCurrent.3', 'A', 147.7, `range: [0, 250], accuracy: { reading: 1 % }, ${SECOND}`],
    ['grid', 'gridConnected', '1', 1, ON_CHANGE],
    ['relay', 'tripped.1', '1', 0, ON_CHANGE],
  ],
)

/** 30 kW for a village: two jets, the river's share through an outlet in the weir. */
export const ISLAND = plant(
  `
use: offGrid
site:
  timeZone: Europe/London
  gravity: 9.81 m/s2
  waterDensity: 999.7 kg/m3
  elevations: { turbine: 100 m, inletGauge: 100.4 m, headwaterZero: 150 m }
turbine:
  kind: turgo
  jets: 2
  nozzleBore: 45 mm
  nozzleCoefficient: 0.94
  inletBore: 200 mm
  ratedNetHead: 48 m
  ratedDischarge: 90 L/s
  ratedSpeed: 1000 /min
generator: { kind: synchronous, polePairs: 3, ratedPower: 30 kW, ratedVoltage: 230 V, ratedFrequency: 50 Hz, ratedSpeed: 1000 /min }
residualOutlet: { area: 0.01 m2, coefficient: 0.6, centre: 0.4 m }
licence: { handsOffFlow: 8 L/s }
`,
  [
    ['level', 'headwaterLevel', 'm', 1, `range: [0, 3], accuracy: { absolute: 0.005 }, ${SECOND}`],
    ['pressure', 'inletPressure', 'bar', 4.6, `range: [0, 10], accuracy: { span: 0.25 % }, ${SECOND}`],
    ['jet-1', 'jetOpen.1', '1', 1, ON_CHANGE],
    ['jet-2', 'jetOpen.2', '1', 1, ON_CHANGE],
    ['tacho', 'speed', '/min', 1000, `range: [0, 3000], accuracy: { absolute: 1 }, ${SECOND}`],
    [
      'power',
      'activePower',
      'kW',
      30,
      `range: [-5, 60], accuracy: { reading: 1 %, absolute: 0.02 }, ${SECOND}`,
    ],
  ],
)

/** A teaching rig of 500 W with an orifice plate as its flow meter and a torque cell on the shaft. */
export const RIG = plant(
  `
use: rig
site:
  timeZone: Europe/London
  gravity: 9.81 m/s2
  waterDensity: 998.2 kg/m3
  waterTemperature: 20 Cel
  elevations: { turbine: 1 m, inletGauge: 1 m }
turbine: { kind: pelton, jets: 1, inletBore: 52.5 mm, ratedNetHead: 24 m, ratedDischarge: 3.6 L/s, ratedSpeed: 1500 /min }
generator: { kind: permanentMagnet, polePairs: 2, ratedPower: 500 W, ratedSpeed: 1500 /min }
orifice: { bore: 34 mm, pipeBore: 52.5 mm }
`,
  [
    ['pressure', 'inletPressure', 'bar', 2.2, `range: [0, 10], accuracy: { span: 0.25 % }, ${SECOND}`],
    [
      'plate',
      'meterPressureDifference',
      'kPa',
      15,
      `range: [-5, 100], accuracy: { absolute: 0.05 }, ${SECOND}`,
    ],
    ['tacho', 'speed', '/min', 1500, `range: [0, 4000], accuracy: { absolute: 1 }, ${SECOND}`],
    ['torque', 'torque', 'N.m', 3.6, `range: [-2, 10], accuracy: { absolute: 0.02 }, ${SECOND}`],
    [
      'power',
      'activePower',
      'W',
      480,
      `range: [-50, 1000], accuracy: { reading: 0.5 %, absolute: 0.5 }, ${SECOND}`,
    ],
  ],
)

/** 60 kW on the public grid by a synchronous generator whose only witness of speed is the frequency. */
export const MACHINE_WITHOUT_TACHOMETER = plant(
  `
use: gridTied
site: { timeZone: Europe/London }
generator: { kind: synchronous, polePairs: 3, ratedPower: 60 kW, ratedFrequency: 50 Hz, ratedSpeed: 1000 /min }
`,
  [
    ['power', 'activePower', 'kW', 50, `range: [-20, 100], accuracy: { reading: 1 % }, ${SECOND}`],
    ['frequency', 'frequency', 'Hz', 50, `range: [0, 100], accuracy: { absolute: 0.01 }, ${SECOND}`],
  ],
)

/** 10 kW whose tachometer stamps its readings. */
export const STAMPED = plant(
  `
use: offGrid
site: { timeZone: Europe/London }
generator: { kind: synchronous, polePairs: 2, ratedPower: 10 kW, ratedFrequency: 50 Hz, ratedSpeed: 1500 /min }
`,
  [
    [
      'tacho',
      'speed',
      '/min',
      1500,
      `range: [0, 4000], payload: { format: json, value: /value, time: /at }, ${SECOND}`,
    ],
    ['power', 'activePower', 'kW', 8, `range: [-1, 20], accuracy: { reading: 1 % }, ${SECOND}`],
  ],
)

/** A measuring weir below the intake tells what the river is left. */
export const WEIR = plant(
  `
use: offGrid
site: { timeZone: Europe/London, gravity: 9.81 m/s2 }
weir: { crestHeight: 0.5 m, crestWidth: 0.6 m, channelWidth: 1.2 m, measures: residualFlow }
generator: { kind: synchronous, polePairs: 2, ratedPower: 10 kW, ratedFrequency: 50 Hz, ratedSpeed: 1500 /min }
`,
  [
    ['weir', 'weirHead', 'mm', 120, `range: [-50, 600], accuracy: { absolute: 2 }, ${SECOND}`],
    ['power', 'activePower', 'kW', 8, `range: [-1, 20], accuracy: { reading: 1 % }, ${SECOND}`],
  ],
)

/** 10 kW of which only power and frequency are measured. */
export const SMALL = plant(
  `
use: offGrid
site: { timeZone: Europe/London }
generator: { kind: synchronous, polePairs: 2, ratedPower: 10 kW, ratedFrequency: 50 Hz, ratedSpeed: 1500 /min }
`,
  [
    ['power', 'activePower', 'kW', 8, `range: [-1, 20], accuracy: { reading: 1 % }, ${SECOND}`],
    ['frequency', 'frequency', 'Hz', 50, `range: [0, 100], accuracy: { absolute: 0.01 }, ${SECOND}`],
  ],
)
