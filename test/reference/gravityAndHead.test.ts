import { describe } from 'vitest'
import {
  gravityIec60041,
  gravityWgs84,
  hydraulicPower,
  meanVelocity,
  netHeadImpulse,
  netHeadReaction,
  pressureHead,
  pressureOfHead,
  totalHead,
  velocityHead,
} from '../../server/physics/index.ts'
import { checkEach, degrees } from './check.ts'

/** φ °, WGS84, IEC 60041. */
const BY_LATITUDE: [number, number, number][] = [
  [0, 9.780325336, 9.7803],
  [15, 9.783784962, 9.783772],
  [30, 9.793247269, 9.793259],
  [45, 9.806197769, 9.806218],
  [60, 9.819176953, 9.819177],
  [75, 9.828696627, 9.828663],
  [90, 9.832184938, 9.832136],
]
/** z m, WGS84, IEC 60041, both at 45°. */
const BY_ALTITUDE: [number, number, number][] = [
  [0, 9.806198, 9.806218],
  [500, 9.804655, 9.804718],
  [1000, 9.803113, 9.803218],
  [2000, 9.80003, 9.800218],
]

describe('gravity', () => {
  checkEach(
    BY_LATITUDE.flatMap(([latitude, wgs84, iec]) => [
      {
        what: `WGS84 at ${latitude}°`,
        source: 'constants from memory, computed for the project',
        got: () => gravityWgs84(degrees(latitude), 0),
        want: wgs84,
        plusMinus: 1e-9,
      },
      {
        what: `IEC 60041 at ${latitude}°`,
        source: 'IEC 60041:1991 formula from memory, computed for the project',
        got: () => gravityIec60041(degrees(latitude), 0),
        want: iec,
        plusMinus: 1e-6,
      },
      {
        what: `IEC 60041 at ${latitude}° against WGS84`,
        source: 'WGS84 ellipsoid, computed for the project; models agree to 5e-5',
        got: () => gravityIec60041(degrees(latitude), 0),
        want: wgs84,
        plusMinus: 5e-5,
      },
    ]),
  )
  checkEach(
    BY_ALTITUDE.flatMap(([altitude, wgs84, iec]) => [
      {
        what: `WGS84 at 45° and ${altitude} m`,
        source: 'second-order formula from memory, computed for the project',
        got: () => gravityWgs84(degrees(45), altitude),
        want: wgs84,
        plusMinus: 1e-6,
      },
      {
        what: `IEC 60041 at 45° and ${altitude} m`,
        source: 'IEC 60041:1991 formula from memory, computed for the project',
        got: () => gravityIec60041(degrees(45), altitude),
        want: iec,
        plusMinus: 1e-6,
      },
    ]),
  )
})

describe('pressure as head', () => {
  checkEach([
    {
      what: '1 bar at 998.2072 kg/m³ and 9.80665',
      source: 'computed for the project',
      got: () => pressureHead(1e5, 998.2072, 9.80665),
      want: 10.215476,
    },
    {
      what: '1 bar at 1000 and 9.81',
      source: 'computed for the project',
      got: () => pressureHead(1e5, 1000, 9.81),
      want: 10.19368,
    },
    {
      what: '1 bar in conventional metres of water',
      source: 'exact mH2O, computed for the project',
      got: () => pressureHead(1e5, 1000, 9.80665),
      want: 10.197162,
    },
    {
      what: '100 m at 1000 and 9.81',
      source: 'exact',
      got: () => pressureOfHead(100, 1000, 9.81),
      want: 981e3,
      within: 1e-12,
    },
    {
      what: '100 m at 1000 and 9.80665',
      source: 'exact',
      got: () => pressureOfHead(100, 1000, 9.80665),
      want: 980.665e3,
      within: 1e-12,
    },
    {
      what: '100 m at 20 °C and 9.80665',
      source: 'computed for the project',
      got: () => pressureOfHead(100, 998.2072, 9.80665),
      want: 978.9069e3,
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
      const head = () => netHeadImpulse(p, meanVelocity(q, d), dz, rho, g)
      return [
        { what: `tap velocity ${id}`, source, got: () => meanVelocity(q, d), want: v },
        {
          what: `velocity head ${id}`,
          source,
          got: () => velocityHead(meanVelocity(q, d), g),
          want: hv,
          within: 5e-6,
        },
        { what: `pressure head ${id}`, source, got: () => pressureHead(p, rho, g), want: hp },
        {
          what: `total head ${id}`,
          source,
          got: () => totalHead(p, meanVelocity(q, d), dz, rho, g),
          want: h,
        },
        { what: `net head of an impulse turbine ${id}`, source, got: head, want: h },
        { what: `hydraulic power ${id}`, source, got: () => hydraulicPower(q, head(), rho, g), want: power },
      ]
    }),
  )
  checkEach([
    {
      what: 'net head of a reaction turbine with 1.40 m/s in the outlet',
      source: 'hand calculation 21.20 − 0.90 − 1.96/19.62',
      got: () => netHeadReaction(21.2, 0.9, 1.4, 9.81),
      want: 20.200102,
    },
    {
      what: 'net head of a reaction turbine with still water at the outlet',
      source: 'Skelderwath data sheet: 20.59 m gross, 0.49 m losses and rack, fictional site',
      got: () => netHeadReaction(20.1, 0.1, 0, 9.81),
      want: 20,
    },
    {
      what: 'hydraulic power of 50 L/s over 60 m',
      source: 'exact',
      got: () => hydraulicPower(0.05, 60, 1000, 9.81),
      want: 29430,
      within: 1e-12,
    },
    {
      what: 'hydraulic power of 5000 kg/s over 50 m',
      source: 'Cengel & Cimbala Ex. 5-3, read in a transcription, recomputed',
      got: () => hydraulicPower(5, 50, 1000, 9.81),
      want: 2452.5e3,
      within: 1e-5,
    },
  ])
})
