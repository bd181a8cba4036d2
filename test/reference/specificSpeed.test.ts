import { describe } from 'vitest'
import { figureOf } from '../support/figureBench.ts'
import { checkEach } from './check.ts'
import { atHead, TEXTBOOK } from './textbook.ts'

const KUMAR = (example: string) =>
  `Shiv Kumar, Fluid Systems, Ex. ${example}, read in a transcription, recomputed`
const GORLA = (example: string) =>
  `Gorla & Khan, Turbomachinery, Ex. ${example}, read in a transcription, recomputed`
const FIVE3 = 'worked number 5.3, computed for the project'

interface Machine {
  head: number
  /** [min⁻¹] */
  speed?: number
  /** [m³/s] */
  discharge?: number
  /** At the shaft [W]. */
  power?: number
  diameter?: number
}

function unitFigure(figure: string, { head, speed = 1, discharge = 1, power = 1, diameter = 1 }: Machine) {
  const torque = (power * 30) / Math.PI / speed
  return figureOf(
    figure,
    { ...atHead(head), speed: `${speed} /min`, discharge: `${discharge} m3/s`, torque: `${torque} N.m` },
    {
      ...TEXTBOOK,
      turbine: `{ kind: francis, pitchDiameter: ${diameter} m, ratedNetHead: ${head} m, ratedDischarge: ${discharge} m3/s, ratedSpeed: ${speed} /min }`,
    },
  )
}

const n_q = (speed: number, discharge: number, head: number) =>
  unitFigure('specificSpeed', { head, speed, discharge })
const n_s = (speed: number, power: number, head: number) =>
  unitFigure('powerSpecificSpeed', { head, speed, power })
const EXAMPLE: Machine = { head: 60, speed: 750, discharge: 0.05, power: 23544, diameter: 0.4 }
const n_11 = () => unitFigure('unitSpeed', EXAMPLE)

describe('specific speed', () => {
  checkEach([
    { what: 'n_q', source: FIVE3, got: () => n_q(750, 0.05, 60), want: 7.779162 },
    {
      what: 'n_q over the n_QE 0.02338998 of the same machine at g 9.81',
      source: FIVE3,
      got: () => n_q(750, 0.05, 60) / 0.02338998,
      want: 332.5853,
    },
    {
      what: 'n_q over n_QE at standard gravity, where n_QE goes with g^−¾,',
      source: FIVE3,
      got: () => (n_q(750, 0.05, 60) / 0.02338998) * (9.80665 / 9.81) ** 0.75,
      want: 332.5001,
    },
    { what: 'n_s by kilowatts', source: FIVE3, got: () => n_s(750, 23544, 60), want: 21.792764 },
    {
      what: 'n_s by metric horsepower, 1.1660281 times that by kilowatts,',
      source: FIVE3,
      got: () => 1.1660281 * n_s(750, 23544, 60),
      want: 25.410977,
    },
    { what: 'n_s of 8000 kW at 30 m', source: KUMAR('7.1'), got: () => n_s(140, 8e6, 30), want: 178.3493 },
    {
      what: 'n_s of 2472 kW at 28 m',
      source: KUMAR('7.2'),
      got: () => n_s(225, 2472.12e3, 28),
      want: 173.688,
    },
    {
      what: 'dimensionless power specific speed, n_s times π/30/g^1.25 at 1000 kg/m³,',
      source: `${GORLA('3.2')}; unit conversion by hand`,
      got: () => (n_s(725, 25902.32, 92) * Math.PI) / 30 / 9.81 ** 1.25,
      want: 0.0781115,
    },
    { what: 'unit speed', source: FIVE3, got: n_11, want: 38.729833 },
    {
      what: 'unit discharge',
      source: FIVE3,
      got: () => unitFigure('unitDischarge', EXAMPLE),
      want: 0.04034358,
    },
    { what: 'unit power', source: FIVE3, got: () => unitFigure('unitPower', EXAMPLE), want: 0.31661639 },
    {
      what: 'n_s from unit values n₁₁·√P₁₁',
      source: FIVE3,
      got: () => n_11() * Math.sqrt(unitFigure('unitPower', EXAMPLE)),
      want: 21.792764,
    },
    {
      what: 'n_q from unit values n₁₁·√Q₁₁',
      source: FIVE3,
      got: () => n_11() * Math.sqrt(unitFigure('unitDischarge', EXAMPLE)),
      want: 7.779162,
    },
  ])
})

interface Size {
  head: number
  diameter?: number
}

/** What an amount at one head and size becomes at another while its unit figure stays. */
function carried(figure: string, amount: number, from: Size, to: Size): number {
  return (amount * unitFigure(figure, from)) / unitFigure(figure, to)
}
const speedAt = (speed: number, from: Size, to: Size) => carried('unitSpeed', speed, from, to)
const dischargeAt = (discharge: number, from: Size, to: Size) => carried('unitDischarge', discharge, from, to)
const powerAt = (power: number, from: Size, to: Size) => carried('unitPower', power, from, to)

const MODEL = { head: 5, diameter: 1 }
const PROTOTYPE = { head: 25, diameter: 5 }

describe('affinity', () => {
  checkEach([
    {
      what: 'power from 32 to 25 m',
      source: KUMAR('7.6'),
      got: () => powerAt(8500e3, { head: 32 }, { head: 25 }),
      want: 5869.539e3,
    },
    {
      what: 'speed from 32 to 25 m',
      source: KUMAR('7.6'),
      got: () => speedAt(120, { head: 32 }, { head: 25 }),
      want: 106.066,
    },
    {
      what: 'speed from 25 to 20 m',
      source: KUMAR('7.9'),
      got: () => speedAt(200, { head: 25 }, { head: 20 }),
      want: 178.8854,
    },
    {
      what: 'discharge from 25 to 20 m',
      source: KUMAR('7.9'),
      got: () => dischargeAt(9, { head: 25 }, { head: 20 }),
      want: 8.049845,
    },
    {
      what: 'power from 25 to 20 m',
      source: KUMAR('7.9'),
      got: () => powerAt(1986.525e3, { head: 25 }, { head: 20 }),
      want: 1421.442e3,
    },
    {
      what: 'speed of the prototype, five times the size and head,',
      source: KUMAR('7.12'),
      got: () => speedAt(410, MODEL, PROTOTYPE),
      want: 183.3576,
    },
    {
      what: 'power of the prototype',
      source: KUMAR('7.12'),
      got: () => powerAt(22, MODEL, PROTOTYPE),
      want: 6149.187,
    },
    {
      what: 'discharge of the prototype',
      source: `${KUMAR('7.12')}; the book prints another number, which is wrong`,
      got: () => dischargeAt(0.3203728, MODEL, PROTOTYPE),
      want: 17.90938,
    },
  ])
})
