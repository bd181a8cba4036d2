import { byNotch, byNozzles, byOneMeter, byOrifice, byOutlet } from './doubtfulFlows.ts'
import { along, type Curve, type DoubtfulPlant, type Draw, densityAt, gravityAt } from './drawnTruth.ts'
import type { Character } from './wornInstruments.ts'

export interface Cell {
  name: string
  figures: readonly string[]
  draw: (draw: Draw) => DoubtfulPlant
}

const GENERATOR: Curve = [
  [0.1, 0.72],
  [0.3, 0.85],
  [0.6, 0.89],
  [1, 0.905],
]

interface Machine {
  kind: string
  head: number
  power: number
  character: () => Character
  /** The ± of the constants: stated in the file, or left to what is assumed. */
  stated: { curve: number; height: number; bore: number } | undefined
  isReaction?: boolean
}

/** A machine with gauge, flow meter, power meter and thermometer, from the textbook: E = gH, P = ρQE, v²/2g. */
function machine(
  draw: Draw,
  { kind, head, power, character, stated, isReaction = false }: Machine,
): DoubtfulPlant {
  const [latitude, altitude] = [draw.of(-60, 70), draw.of(0, 2500)]
  const g = gravityAt(latitude, altitude) + draw.of(-0.0005, 0.0005)
  const celsius = draw.of(2, 22)
  const H = head * draw.of(0.9, 1.02)
  const efficiency = draw.of(0.7, 0.9)
  const Q = ((power / 0.8 / (1000 * g * head)) * draw.of(0.6, 1)) as number
  const bore = draw.constant(Math.sqrt((4 * Q) / (Math.PI * draw.of(2, 4))), 0)
  bore.truth = bore.written * (1 + draw.of(-1, 1) * (stated?.bore ?? 0.005))
  const height = stated?.height ?? 0.01
  const gauge = draw.constant(Number(draw.of(100.2, 101.5).toFixed(2)), height)
  const level = isReaction ? draw.constant(98, 0.02) : draw.constant(100, height)
  const tail = draw.of(0.2, 1)
  const reference = level.truth + (isReaction ? tail : 0)
  const velocityHead = (Q / ((Math.PI / 4) * bore.truth ** 2)) ** 2 / (2 * g)
  const column = H - (gauge.truth - reference) - velocityHead
  const p = densityAt(celsius, (1000 * g * column) / 2) * g * column
  const hydraulic = densityAt(celsius, p) * Q * g * H
  const drive = isReaction || kind === 'crossflow' ? draw.constant(0.97, 0.01) : { written: 1, truth: 1 }
  const shaft = efficiency * hydraulic * drive.truth
  const half = (y: number) => (stated ? stated.curve : 0.15 * (1 - y))
  const curve = draw.curve(GENERATOR, half, draw.random() < 0.5)
  let made = 0.9 * shaft
  for (let i = 0; i < 60; i++) made = shaft * along(curve, made / power)
  const mm = (one: { written: number }) => `${one.written * 1000} mm`
  const plusMinus = stated ? ` ± ${stated.height} m` : ''
  return {
    sections: [
      `site: { timeZone: UTC, latitude: ${latitude} deg, altitude: ${altitude} m, elevations: { ${isReaction ? `tailwaterZero: ${level.written} m` : `turbine: ${level.written} m${plusMinus}`}, inletGauge: ${gauge.written} m${plusMinus} } }`,
      `turbine: { kind: ${kind}, ratedNetHead: ${head} m, driveEfficiency: ${drive.written}, inletBore: ${mm(bore)}${stated ? ` ± ${100 * stated.bore} %` : ''} }`,
      `generator: { kind: synchronous, ratedPower: ${power} W, efficiencyCurve: ${curveText(stated?.curve)} }`,
    ],
    instruments: [
      {
        role: 'inletPressure',
        truth: p,
        unit: 'Pa',
        fixed: 0.0025 * 1.3 * 1000 * 9.81 * head,
        character: character(),
      },
      { role: 'discharge', truth: Q, unit: 'm3/s', share: draw.of(0.005, 0.02), character: character() },
      {
        role: 'activePower',
        truth: made,
        unit: 'W',
        share: draw.of(0.003, 0.01),
        step: Number((power / 2000).toPrecision(1)),
        character: character(),
      },
      {
        role: 'waterTemperature',
        truth: celsius,
        unit: 'Cel',
        fixed: 0.5,
        step: 0.1,
        character: character(),
      },
      ...(isReaction
        ? [
            {
              role: 'tailwaterLevel',
              truth: tail,
              unit: 'm',
              fixed: 0.005,
              step: 0.001,
              character: character(),
            },
          ]
        : []),
    ],
    truth: {
      netHead: H,
      hydraulicPower: hydraulic,
      shaftPower: shaft,
      turbineEfficiency: efficiency,
      waterToWireEfficiency: made / hydraulic,
    },
  }
}

function curveText(half: number | undefined): string {
  const points = JSON.stringify(GENERATOR)
  return half === undefined ? points : `{ points: ${points}, plusMinus: ${half} }`
}

const AT_THE_MACHINE = [
  'netHead',
  'hydraulicPower',
  'turbineEfficiency',
  'shaftPower',
  'waterToWireEfficiency',
]
const ANY: Character[] = ['limits', 'certificate', 'worn']

export const cells: readonly Cell[] = [
  {
    name: 'alpine Pelton, generator curve ± 1 point, tap ± 3 cm, bore ± 0.5 %',
    figures: AT_THE_MACHINE,
    draw: (draw) =>
      machine(draw, {
        kind: 'pelton',
        head: 300,
        power: 400_000,
        character: () => 'limits',
        stated: { curve: 0.01, height: 0.03, bore: 0.005 },
      }),
  },
  {
    name: 'Francis with tailwater, certificates, nothing stated of constants',
    figures: AT_THE_MACHINE,
    draw: (draw) =>
      machine(draw, {
        kind: 'francis',
        head: 20,
        power: 90_000,
        character: () => 'certificate',
        stated: undefined,
        isReaction: true,
      }),
  },
  {
    name: 'rig, worn instruments with coarse steps',
    figures: AT_THE_MACHINE,
    draw: (draw) =>
      machine(draw, {
        kind: 'pelton',
        head: 24,
        power: 600,
        character: () => 'worn',
        stated: { curve: 0.015, height: 0.005, bore: 0.01 },
      }),
  },
  {
    name: 'machines at random, instruments of every character',
    figures: AT_THE_MACHINE,
    draw: (draw) =>
      machine(draw, {
        kind: draw.one(['pelton', 'turgo']),
        head: 10 * 50 ** draw.random(),
        power: 1000 * 500 ** draw.random(),
        character: () => draw.one(ANY),
        stated:
          draw.random() < 0.5
            ? { curve: draw.of(0.005, 0.02), height: draw.of(0.005, 0.05), bore: draw.of(0.002, 0.02) }
            : undefined,
      }),
  },
  {
    name: 'reaction machines at random, instruments of every character',
    figures: AT_THE_MACHINE,
    draw: (draw) =>
      machine(draw, {
        kind: draw.one(['francis', 'kaplan', 'pumpAsTurbine']),
        head: 4 * 25 ** draw.random(),
        power: 3000 * 200 ** draw.random(),
        character: () => draw.one(ANY),
        stated: undefined,
        isReaction: true,
      }),
  },
  {
    name: 'Turgo, flow by its nozzles',
    figures: ['discharge', 'netHead', 'hydraulicPower', 'turbineEfficiency'],
    draw: byNozzles,
  },
  { name: 'residual flow through an outlet, Cd ± 5 %', figures: ['residualFlow'], draw: byOutlet },
  { name: 'V-notch, coefficient ± 1.5 %', figures: ['weirFlow'], draw: byNotch },
  { name: 'orifice, nothing stated', figures: ['meterFlow'], draw: byOrifice },
  { name: 'three phases through one meter', figures: ['apparentPower'], draw: byOneMeter },
]
