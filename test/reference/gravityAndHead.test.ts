import { describe } from 'vitest'
import { meanVelocity } from '../../server/physics/pipe.ts'
import { figureOf } from '../support/figureBench.ts'
import { checkEach } from './check.ts'
import { TEXTBOOK } from './textbook.ts'

const ANY = { headwaterLevel: '1 m' }
const gravity = (latitude: number, altitude = 0) =>
  figureOf('gravity', ANY, { site: `latitude: ${latitude} deg, altitude: ${altitude} m` })

/** φ °, IEC 60041, WGS84, GRS80. */
const BY_LATITUDE: [number, number, number, number][] = [
  [0, 9.7803, 9.780325336, 9.780326772],
  [15, 9.783772, 9.783784962, 9.783786398],
  [30, 9.793259, 9.793247269, 9.793248704],
  [45, 9.806218, 9.806197769, 9.806199202],
  [60, 9.819177, 9.819176953, 9.819178385],
  [75, 9.828663, 9.828696627, 9.828698058],
  [90, 9.832136, 9.832184938, 9.832186368],
]
/** z m, IEC 60041, WGS84, both at 45°. */
const BY_ALTITUDE: [number, number, number][] = [
  [0, 9.806218, 9.806198],
  [500, 9.804718, 9.804655],
  [1000, 9.803218, 9.803113],
  [2000, 9.800218, 9.80003],
]

describe('gravity', () => {
  checkEach(
    BY_LATITUDE.flatMap(([latitude, iec, wgs84, grs80]) => [
      {
        what: `gravity at ${latitude}°`,
        source: 'IEC 60041:1991 formula from memory, computed for the project',
        got: () => gravity(latitude),
        want: iec,
        plusMinus: 1e-6,
      },
      {
        what: `gravity at ${latitude}° against WGS84`,
        source: 'WGS84 ellipsoid, constants from memory, computed for the project; models agree to 5e-5',
        got: () => gravity(latitude),
        want: wgs84,
        plusMinus: 5e-5,
      },
      {
        what: `gravity at ${latitude}° against GRS80`,
        source: 'table 2.2, computed for the project; models agree to 6e-5',
        got: () => gravity(latitude),
        want: grs80,
        plusMinus: 6e-5,
      },
    ]),
  )
  checkEach(
    BY_ALTITUDE.flatMap(([altitude, iec, wgs84]) => [
      {
        what: `gravity at 45° and ${altitude} m`,
        source: 'IEC 60041:1991 formula from memory, computed for the project',
        got: () => gravity(45, altitude),
        want: iec,
        plusMinus: 1e-6,
      },
      {
        what: `gravity at 45° and ${altitude} m against WGS84`,
        source: 'second-order formula from memory, computed for the project; IEC rounds the term of height',
        got: () => gravity(45, altitude),
        want: wgs84,
        plusMinus: 2e-4,
      },
    ]),
  )
})

describe('pressure as head', () => {
  const head = (pressure: number, density: number, g: number) =>
    figureOf(
      'netHead',
      { inletPressure: `${pressure} Pa` },
      { site: `gravity: ${g} m/s2, waterDensity: ${density} kg/m3` },
    )
  checkEach([
    {
      what: '1 bar at 998.2072 kg/m³ and 9.80665',
      source: 'computed for the project',
      got: () => head(1e5, 998.2072, 9.80665),
      want: 10.215476,
    },
    {
      what: '1 bar at 1000 and 9.81',
      source: 'computed for the project',
      got: () => head(1e5, 1000, 9.81),
      want: 10.19368,
    },
    {
      what: '1 bar in conventional metres of water',
      source: 'exact mH2O, computed for the project',
      got: () => head(1e5, 1000, 9.80665),
      want: 10.197162,
    },
    {
      what: '981 kPa at 1000 and 9.81',
      source: 'exact',
      got: () => head(981e3, 1000, 9.81),
      want: 100,
      within: 1e-12,
    },
    {
      what: '980.665 kPa at 1000 and 9.80665',
      source: 'exact',
      got: () => head(980.665e3, 1000, 9.80665),
      want: 100,
      within: 1e-12,
    },
    {
      what: '978.9069 kPa at 20 °C and 9.80665',
      source: 'computed for the project',
      got: () => head(978.9069e3, 998.2072, 9.80665),
      want: 100,
    },
  ])
})

/** p, Q, D, Δz, ρ, g → v, v²/2g, p/ρg, H, P. Worked numbers 3.2 a–c, computed for the project. */
const IMPULSE = [
  {
    id: 'a',
    p: 480e3,
    q: 0.012,
    d: 0.1,
    dz: 0.35,
    rho: 999.1,
    g: 9.8066,
    v: 1.527887,
    hv: 0.119024,
    hp: 48.990719,
    h: 49.459743,
    power: 5815.145,
  },
  {
    id: 'b',
    p: 250e3,
    q: 0.0035,
    d: 0.05,
    dz: 0.2,
    rho: 999.7,
    g: 9.81,
    v: 1.782535,
    hv: 0.161949,
    hp: 25.491847,
    h: 25.853796,
    power: 887.424,
  },
  {
    id: 'c',
    p: 1.2e6,
    q: 0.15,
    d: 0.25,
    dz: 1.1,
    rho: 1000,
    g: 9.8,
    v: 3.055775,
    hv: 0.476416,
    hp: 122.44898,
    h: 124.025396,
    power: 182317.33,
  },
]

describe('net head', () => {
  checkEach(
    IMPULSE.flatMap(({ id, p, q, d, dz, rho, g, v, hv, hp, h, power }) => {
      const source = `worked number 3.2 ${id}, IEC 60041 definition, computed for the project`
      const place = `gravity: ${g} m/s2, waterDensity: ${rho} kg/m3`
      const gauge = { inletPressure: `${p} Pa`, discharge: `${q} m3/s` }
      const figure = (name: string, turbine: string, rise: number) =>
        figureOf(name, gauge, {
          site: `${place}, elevations: { turbine: 100 m, inletGauge: ${100 + rise} m }`,
          turbine,
        })
      const withBore = `{ kind: pelton, inletBore: ${d} m }`
      const pressureHead = () => figureOf('netHead', { inletPressure: `${p} Pa` }, { site: place })
      return [
        { what: `tap velocity ${id}`, source, got: () => meanVelocity(q, d), want: v },
        {
          what: `velocity head ${id}`,
          source,
          got: () => figure('netHead', withBore, 0) - pressureHead(),
          want: hv,
          within: 5e-6,
        },
        { what: `pressure head ${id}`, source, got: pressureHead, want: hp },
        {
          what: `net head of an impulse turbine ${id}`,
          source,
          got: () => figure('netHead', withBore, dz),
          want: h,
        },
        {
          what: `hydraulic power ${id}`,
          source,
          got: () => figure('hydraulicPower', withBore, dz),
          want: power,
        },
      ]
    }),
  )
  /** Total head at the inlet [m], in a pipe so wide that none of it is velocity. */
  const reaction = (inlet: number, tailwater: number, outletVelocity: number) => {
    const draftTube = outletVelocity > 0 ? `, draftTubeArea: ${1 / outletVelocity} m2` : ''
    return figureOf(
      'netHead',
      { inletPressure: `${inlet * 9810} Pa`, discharge: '1 m3/s', tailwaterLevel: `${tailwater} m` },
      {
        ...TEXTBOOK,
        turbine: `{ kind: francis, inletBore: 1000 m${draftTube} }`,
      },
    )
  }
  const power = (discharge: number, head: number) =>
    figureOf(
      'hydraulicPower',
      { inletPressure: `${head * 9810} Pa`, discharge: `${discharge} m3/s` },
      TEXTBOOK,
    )
  checkEach([
    {
      what: 'net head of a reaction turbine with 1.40 m/s in the outlet',
      source: 'hand calculation 21.20 − 0.90 − 1.96/19.62',
      got: () => reaction(21.2, 0.9, 1.4),
      want: 20.200102,
    },
    {
      what: 'net head of a reaction turbine with still water at the outlet',
      source: 'Skelderwath data sheet: 20.59 m gross, 0.49 m losses and rack, fictional site',
      got: () => reaction(20.1, 0.1, 0),
      want: 20,
    },
    {
      what: 'hydraulic power of 50 L/s over 60 m',
      source: 'exact',
      got: () => power(0.05, 60),
      want: 29430,
      within: 1e-12,
    },
    {
      what: 'hydraulic power of 5000 kg/s over 50 m',
      source: 'Cengel & Cimbala Ex. 5-3, read in a transcription, recomputed',
      got: () => power(5, 50),
      want: 2452.5e3,
      within: 1e-5,
    },
  ])
})
