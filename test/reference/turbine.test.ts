import { describe } from 'vitest'
import { boreArea, meanVelocity } from '../../server/physics/pipe.ts'
import { bucketSpeed } from '../../server/physics/turbine.ts'
import { figureOf } from '../support/figureBench.ts'
import { checkEach, rpm } from './check.ts'
import { atHead, GORLA, jet, KUMAR, read, TEXTBOOK } from './textbook.ts'

/** One jet of this bore; Cd is Cv where the jet does not contract. */
const jetFlow = (coefficient: number, bore: number, head: number) =>
  figureOf(
    'nozzleFlow',
    { ...atHead(head), 'jetOpen.1': '1' },
    { ...TEXTBOOK, turbine: `{ kind: pelton, nozzleCoefficient: ${coefficient}, nozzleBore: ${bore} m }` },
  )
const waterPower = (discharge: number, head: number) =>
  figureOf('hydraulicPower', { ...atHead(head), discharge: `${discharge} m3/s` }, TEXTBOOK)
/** Of a shaft power [W] from this water. */
const turbineEfficiency = (power: number, discharge: number, head: number) =>
  figureOf(
    'turbineEfficiency',
    { ...atHead(head), discharge: `${discharge} m3/s`, torque: `${power} N.m`, speed: '1 rad/s' },
    { ...TEXTBOOK, turbine: '{ kind: pelton }' },
  )
const speedRatio = (speed: number, diameter: number, coefficient: number, head: number) =>
  figureOf(
    'speedRatio',
    { ...atHead(head), speed: `${speed} /min` },
    {
      ...TEXTBOOK,
      turbine: `{ kind: pelton, pitchDiameter: ${diameter} m, velocityCoefficient: ${coefficient} }`,
    },
  )

/** Printed with too few figures for a millionth. */
const ROUNDED = new Set([0.218352, 1.997])

describe('jets and buckets', () => {
  checkEach(
    [
      ...read(`${KUMAR} Ex. 4.1`, [
        ['discharge for 735.75 kW at 200 m and 86 %', () => 735.75e3 / 0.86 / waterPower(1, 200), 0.4360465],
        ['its pitch diameter', () => jet(0.45, 200) / bucketSpeed(rpm(800), 1), 0.672959],
        ['discharge of a jet of a tenth of it', () => jetFlow(0.98, 0.0672959, 200), 0.218352],
        ['the number of jets', () => 0.4360465 / jetFlow(0.98, 0.0672959, 200), 1.997],
      ]),
      ...read(`${KUMAR} Ex. 4.3`, [
        ['jet velocity at 30 m', () => jet(0.98, 30), 23.77586],
        ['bucket speed coefficient 0.45 at 30 m as a velocity', () => jet(0.45, 30), 10.91749],
        ['discharge of 22 mm at 30 m [L/s]', () => 1000 * jetFlow(0.98, 0.022, 30), 9.03798],
        [
          'efficiency of the 2469.781 W that reach the buckets',
          () => turbineEfficiency(2469.781, 9.03798e-3, 30),
          0.928532,
        ],
        [
          'the same referred to the jet',
          () => turbineEfficiency(2469.781, 9.03798e-3, 30) / 0.98 ** 2,
          0.966818,
        ],
      ]),
      ...read(`${KUMAR} Ex. 4.6`, [
        ['jet velocity at 510 m', () => jet(0.98, 510), 98.03038],
        ['discharge of 200 mm at 510 m', () => jetFlow(0.98, 0.2, 510), 3.079715],
        [
          'efficiency of the 13020.61 kW at the shaft',
          () => turbineEfficiency(13020.61e3, 3.079715, 510),
          0.845049,
        ],
        [
          'power of a force of 291.7207 kN on buckets with speed coefficient 0.46 [kW]',
          () => 291.7207 * jet(0.46, 510),
          13423.31,
        ],
      ]),
      ...read(`${KUMAR} Ex. 4.15`, [
        ['velocity of 200 L/s in 74 mm', () => meanVelocity(0.2, 0.074), 46.50254],
        [
          'loss in the nozzle at 120 m [kW]',
          () => (waterPower(0.2, 120) - (200 * meanVelocity(0.2, 0.074) ** 2) / 2) / 1e3,
          19.19138,
        ],
        [
          'loss in the runner [kW]',
          () => ((200 * meanVelocity(0.2, 0.074) ** 2) / 2 - 202.766e3 - 3.2e3) / 1e3,
          10.28262,
        ],
      ]),
      ...read(`${GORLA} Ex. 3.1`, [
        ['jet velocity at 220 m', () => jet(1, 220), 65.69932],
        [
          'work of a kilogram, by the efficiency of 203.57 kW from 145 L/s',
          () => (turbineEfficiency(203_570, 0.145, 220) * waterPower(1, 220)) / 1000,
          1403.931,
        ],
      ]),
      ...read(`${GORLA} Ex. 3.2`, [
        ['jet velocity at 92 m', () => jet(0.95, 92), 40.36147],
        ['diameter of the jet of 35 L/s', () => Math.sqrt(0.035 / jet(0.95, 92) / boreArea(1)), 0.0332281],
        ['pitch diameter', () => (0.45 * jet(0.95, 92)) / bucketSpeed(rpm(725), 1), 0.478457],
        ['bucket speed at 725 min⁻¹', () => bucketSpeed(rpm(725), 0.478457), 18.16266],
        ['speed ratio there', () => speedRatio(725, 0.478457, 0.95, 92), 0.45],
        ['power at 82 %', () => 0.82 * waterPower(0.035, 92), 25902.32],
      ]),
      ...read(`${GORLA} Ex. 3.3`, [
        ['jet velocity at 45 m', () => jet(0.98, 45), 29.11936],
        ['efficiency of 336.673 kW from 0.82 m³/s', () => turbineEfficiency(336_673, 0.82, 45), 0.930064],
      ]),
      ...read(`${GORLA} Ex. 3.7`, [
        ['jet velocity at 60 m', () => jet(0.98, 60), 33.62414],
        [
          'efficiency of 510.1375 J/kg referred to the jet',
          () => turbineEfficiency(510.1375, 1e-3, 60) / 0.98 ** 2,
          0.902433,
        ],
      ]),
      ...read('TBC 2159 Ex. 11.2', [
        ['efficiency of 443.571 kW from 1 m³/s at 46 m', () => turbineEfficiency(443_571, 1, 46), 0.982961],
      ]),
      {
        what: 'bucket speed of the rig at 1500 min⁻¹',
        source: 'Quennerby data sheet, fictional rig, printed 9.66',
        got: () => bucketSpeed(rpm(1500), 0.123),
        want: 9.66,
        plusMinus: 0.005,
      },
      {
        what: 'speed ratio of the rig',
        source: 'Quennerby data sheet, fictional rig, printed 0.459',
        got: () => speedRatio(1500, 0.123, 0.97, 24),
        want: 0.459,
        plusMinus: 5e-4,
      },
    ].map((check) => ({ within: ROUNDED.has(check.want) ? 1e-5 : 1e-6, ...check })),
  )
})

describe('a generator of 1862 kW on 50 m', () => {
  const readings = { ...atHead(50), discharge: '5 m3/s', activePower: '1862 kW' }
  checkEach(
    read('Cengel & Cimbala Ex. 5-3', [
      ['the overall efficiency', () => figureOf('waterToWireEfficiency', readings, TEXTBOOK), 0.759225],
      [
        'turbine efficiency at a generator of 95 %',
        () =>
          figureOf('turbineEfficiency', readings, {
            ...TEXTBOOK,
            turbine: '{ kind: francis }',
            generator:
              '{ kind: synchronous, polePairs: 2, ratedPower: 1862 kW, efficiencyCurve: [[0, 0.95], [1, 0.95]] }',
          }),
        0.799185,
      ],
    ]).map((check) => ({ ...check, within: 1e-5 })),
  )
})
