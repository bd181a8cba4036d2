import type { Random } from '../../server/statistics/bootstrap.ts'

/**
 * Plant files of machines that nobody tuned for, drawn within what the trade builds. Every number follows from
 * the ones before by textbook laws (ρgQH, u/√(2gH), f = n·p, P = m·U·I·cos φ) and a share drawn from a band.
 */

interface MachineKind {
  kind: string
  /** Net head [m]. */
  head: readonly [number, number]
  /** u/√(2gH) at the rated point. */
  ratio: readonly [number, number]
  efficiency: readonly [number, number]
  /** Runaway over rated speed: ESHA guide 2004 (from memory). */
  runaway: readonly [number, number]
}

/**
 * u/√(2gH): Pelton and Turgo tests peak at 0.43 to 0.48 (Cobb & Sharp 2013, Renewable Energy 50:959; Agar & Rasi 2008);
 * crossflow 0.47; Francis and Kaplan by n₁₁ of 55 to 85 and 110 to 200 over 84.6 (common practice, no source). Heads and
 * efficiencies: ESHA guide 2004 (from memory).
 */
const KINDS: readonly MachineKind[] = [
  { kind: 'pelton', head: [15, 600], ratio: [0.41, 0.49], efficiency: [0.65, 0.9], runaway: [1.7, 1.9] },
  { kind: 'turgo', head: [12, 250], ratio: [0.42, 0.5], efficiency: [0.65, 0.85], runaway: [1.75, 1.9] },
  { kind: 'crossflow', head: [3, 120], ratio: [0.43, 0.52], efficiency: [0.6, 0.84], runaway: [1.7, 2.0] },
  { kind: 'francis', head: [8, 250], ratio: [0.65, 1.0], efficiency: [0.75, 0.93], runaway: [1.6, 2.2] },
  { kind: 'kaplan', head: [2, 25], ratio: [1.3, 2.4], efficiency: [0.78, 0.92], runaway: [2.0, 3.2] },
  { kind: 'propeller', head: [2, 20], ratio: [1.3, 2.3], efficiency: [0.7, 0.9], runaway: [1.9, 2.6] },
  { kind: 'pumpAsTurbine', head: [8, 120], ratio: [0.65, 1.2], efficiency: [0.6, 0.83], runaway: [1.3, 2.0] },
]

const G = 9.81

/** The text of a plant file; the same for the same draws. */
export function saneMachine(random: Random): string {
  const draw = createDraw(random)
  const turbine = drawTurbine(draw)
  const generator = drawGenerator(draw, turbine)
  return [
    'headrace: 1',
    'id: drawn',
    'name: Drawn',
    `use: ${draw.one(['gridTied', 'offGrid'])}`,
    `site: { timeZone: UTC, latitude: ${draw.of([-60, 70]).toFixed(1)} deg, altitude: ${draw.of([0, 2500]).toFixed(0)} m, waterTemperature: ${draw.of([1, 25]).toFixed(0)} Cel, elevations: ${turbine.elevations} }`,
    `turbine: { ${turbine.text}, runawaySpeed: ${(turbine.speed * draw.of(turbine.kind.runaway)).toFixed(1)} /min, driveRatio: ${generator.drive}, driveEfficiency: ${generator.drive === 1 ? 1 : 0.97} }`,
    `generator: { ${generator.text} }`,
    `penstock: ${turbine.penstock}`,
    `licence: { maximumDischarge: ${turbine.flow * draw.of([1, 1.2])} m3/s, dailyVolume: ${turbine.flow * 86_400 * draw.of([0.5, 1])} m3 }`,
    'instruments:',
    ...turbine.instruments,
    ...generator.instruments,
  ].join('\n')
}

function createDraw(random: Random) {
  const of = ([low, high]: readonly [number, number]) => low + (high - low) * random()
  return {
    of,
    /** Evenly over the decades: sizes of plants. */
    size: ([low, high]: readonly [number, number]) => low * (high / low) ** random(),
    one: <T>(list: readonly T[]) => list[Math.floor(random() * list.length)]!,
    isSo: (share: number) => random() < share,
  }
}
type Draw = ReturnType<typeof createDraw>

/** A turbine whose runner is neither too small nor too large for its jets, with a pipe that takes 2 to 25 % of the head. */
function drawTurbine(draw: Draw) {
  const kind = draw.one(KINDS)
  const head = draw.size(kind.head)
  const shaft = draw.size([500, 1.5e6])
  const flow = shaft / (1000 * G * head * draw.of(kind.efficiency))
  const speed = draw.one([214, 300, 375, 428, 500, 600, 750, 1000, 1500]) * draw.of([0.97, 1.03])
  const spouting = Math.sqrt(2 * G * head)
  const pitch = (2 * draw.of(kind.ratio) * spouting) / ((speed * Math.PI) / 30)
  const length = head * draw.size([1.5, 20])
  const velocity = penstockVelocity(draw, { head, length, flow })
  const bore = Math.sqrt((4 * flow) / (Math.PI * velocity))
  const inlet = bore * draw.of([0.7, 1])
  const jets = drawJets(draw, { kind: kind.kind, flow, spouting, pitch, inlet })
  if (jets === undefined) return drawTurbine(draw)
  const datum = draw.of([0, 800])
  const gross = head * draw.of([1.03, 1.25])
  const suction = draw.of([0.5, 3])
  const tail = kind.kind === 'pelton' || kind.kind === 'turgo' ? datum - draw.of([1, 3]) : datum - suction
  const text = `kind: ${kind.kind}, ${jets}pitchDiameter: ${pitch * 1000} mm, inletBore: ${inlet * 1000} mm, ratedNetHead: ${head} m, ratedDischarge: ${flow} m3/s, ratedSpeed: ${speed} /min, ratedShaftPower: ${shaft} W`
  const range = (low: number, high: number) => `[${low.toPrecision(4)}, ${high.toPrecision(4)}]`
  return {
    kind,
    speed,
    shaft,
    flow,
    text,
    elevations: `{ turbine: ${datum} m, inletGauge: ${datum + draw.of([-1, 1.5])} m, headwaterZero: ${datum + gross - 1} m, tailwaterZero: ${tail - 1} m }`,
    penstock: `{ bore: ${bore * 1000} mm, length: ${length} m, roughness: ${draw.size([0.005, 0.5])} mm, minorLoss: ${draw.of([0.5, 4])}, waveSpeed: ${draw.of([200, 1300])} m/s, closingTime: ${draw.of([3, 60])} s }`,
    instruments: [
      `- { id: p, role: inletPressure, topic: d/p, unit: bar, range: ${range(0, (head / 10.2) * draw.of([1.3, 4]))}, accuracy: { span: ${draw.of([0.1, 1])} % } }`,
      `- { id: q, role: discharge, topic: d/q, unit: m3/s, range: ${range(0, flow * draw.of([1.1, 3]))}, accuracy: { reading: ${draw.of([0.5, 5])} % } }`,
      `- { id: hw, role: headwaterLevel, topic: d/hw, unit: m, range: ${range(0, draw.of([1.5, 4]))}, accuracy: { absolute: 0.01 } }`,
      `- { id: tw, role: tailwaterLevel, topic: d/tw, unit: m, range: ${range(0, draw.of([1.5, 4]))}, accuracy: { absolute: 0.01 } }`,
    ],
  }
}

/** 0.8 to 4 m/s (common practice, no source), slower in a long pipe: f ≈ 0.02 may take at most a fifth of the head. */
function penstockVelocity(
  draw: Draw,
  { head, length, flow }: { head: number; length: number; flow: number },
): number {
  let velocity = draw.of([0.8, 4])
  const lost = () => (0.02 * length * velocity ** 2.5) / (2 * G * Math.sqrt((4 * flow) / Math.PI))
  while (lost() > 0.2 * head && velocity > 0.5) velocity *= 0.8
  return velocity
}

/** Nozzles that pass the rated flow with something to spare; undefined where the jets are too thick for the runner. */
function drawJets(
  draw: Draw,
  one: { kind: string; flow: number; spouting: number; pitch: number; inlet: number },
): string | undefined {
  if (one.kind !== 'pelton' && one.kind !== 'turgo') return ''
  const jets = draw.one(one.kind === 'pelton' ? [1, 2, 4, 6] : [1, 2])
  const cd = draw.of([0.8, 0.97])
  const area = (one.flow * draw.of([1, 1.5])) / (jets * cd * one.spouting)
  const bore = Math.sqrt((4 * area) / Math.PI)
  // D/d of at least 8 for Pelton, 4 for Turgo wheels (common practice, no source)
  const isFit = one.pitch / bore >= (one.kind === 'pelton' ? 8 : 4) && jets * bore ** 2 < 0.8 * one.inlet ** 2
  return isFit
    ? `jets: ${jets}, nozzleBore: ${bore * 1000} mm, nozzleCoefficient: ${cd}, velocityCoefficient: ${draw.of([0.95, 0.99])}, `
    : undefined
}

interface Turning {
  speed: number
  shaft: number
  kind: MachineKind
}

/** A generator for that shaft, over a belt or gear where its own speed is another. */
function drawGenerator(draw: Draw, { speed: slow, shaft }: Turning) {
  const kind = draw.one(['synchronous', 'induction', 'permanentMagnet'])
  const f = draw.one([50, 60])
  const pairs = draw.one([1, 2, 3, 4, 5, 6, 8].filter((p) => (60 * f) / p > 0.9 * slow))
  const slip = kind === 'induction' ? draw.of([0.003, 0.04]) : 0
  const speed = ((60 * f) / pairs) * (1 + slip)
  const drive = speed / slow
  const power = shaft * draw.of([0.8, 0.96]) * draw.of([0.9, 1.5])
  const voltage = draw.one([230, 231, 400, 120, 277])
  const current = power / (3 * voltage * draw.of([0.75, 1]))
  const omega = (speed * Math.PI) / 30
  // T_m of 0.3 to 8 s (common practice, no source)
  const inertia = (draw.size([0.3, 8]) * shaft) / omega ** 2
  const range = (high: number) => `[0, ${(high * draw.of([1.2, 3])).toPrecision(4)}]`
  const isLarge = power > 20_000
  return {
    drive,
    text: `kind: ${kind}, phases: 3, polePairs: ${pairs}, ratedPower: ${power} W, ratedVoltage: ${voltage} V, ratedCurrent: ${current} A, ratedFrequency: ${f} Hz, ratedSpeed: ${speed} /min, inertia: ${inertia} kg.m2, efficiencyCurve: [[0.1, ${draw.of([0.6, 0.8])}], [0.5, ${draw.of([0.8, 0.92])}], [1, ${draw.of([0.85, 0.96])}]]`,
    instruments: [
      `- { id: n, role: speed, topic: d/n, unit: /min, range: ${range(2 * speed)}, accuracy: { absolute: 1 } }`,
      `- { id: P, role: activePower, topic: d/P, unit: ${isLarge ? 'kW' : 'W'}, range: ${range(power / (isLarge ? 1000 : 1))}, accuracy: { reading: 0.5 % } }`,
      `- { id: f, role: frequency, topic: d/f, unit: Hz, range: [0, ${draw.one([70, 100, 120])}], accuracy: { absolute: 0.02 } }`,
      `- { id: U, role: phaseVoltage.1, topic: d/U, unit: V, range: ${range(voltage)}, accuracy: { reading: 0.5 % } }`,
      `- { id: I, role: phaseCurrent.1, topic: d/I, unit: A, range: ${range(current)}, accuracy: { reading: 0.5 % } }`,
    ],
  }
}
