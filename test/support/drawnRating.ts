import type { Random } from '../../simulator/random.ts'

export const G = 9.81
export const RHO = 999.1
export const TURN = (2 * Math.PI) / 60

type Band = readonly [low: number, high: number]

export interface Kind {
  kind: string
  inlet: 'jets' | 'spears' | 'vanes' | 'none'
  head: Band
  efficiency: Band
  /** Runaway over rated speed; jets 1.8 … 1.9, Francis 2 … 2.2, axial runners to 2.7 (trade dossier, [R24] and from memory). */
  runaway: Band
  /** Efficiency over that at full discharge, at shares of discharge of 0.25, 0.5 and 0.75. */
  shape: readonly [number, number, number]
}

export const KINDS: readonly Kind[] = [
  {
    kind: 'pelton',
    inlet: 'spears',
    head: [20, 250],
    efficiency: [0.72, 0.88],
    runaway: [1.75, 1.9],
    shape: [0.9, 1.0, 1.01],
  },
  {
    kind: 'pelton',
    inlet: 'jets',
    head: [15, 40],
    efficiency: [0.6, 0.75],
    runaway: [1.75, 1.9],
    shape: [0.9, 0.97, 1.0],
  },
  {
    kind: 'turgo',
    inlet: 'spears',
    head: [15, 120],
    efficiency: [0.68, 0.82],
    runaway: [1.75, 1.9],
    shape: [0.88, 0.97, 1.0],
  },
  {
    kind: 'crossflow',
    inlet: 'vanes',
    head: [5, 60],
    efficiency: [0.65, 0.82],
    runaway: [1.7, 1.85],
    shape: [0.9, 0.97, 1.0],
  },
  {
    kind: 'francis',
    inlet: 'vanes',
    head: [10, 90],
    efficiency: [0.78, 0.9],
    runaway: [1.8, 2.2],
    shape: [0.6, 0.85, 0.98],
  },
  {
    kind: 'kaplan',
    inlet: 'vanes',
    head: [3, 15],
    efficiency: [0.78, 0.9],
    runaway: [2.2, 2.7],
    shape: [0.9, 0.98, 1.01],
  },
  {
    kind: 'propeller',
    inlet: 'vanes',
    head: [3, 12],
    efficiency: [0.72, 0.85],
    runaway: [2.0, 2.6],
    shape: [0.4, 0.7, 0.92],
  },
  {
    kind: 'pumpAsTurbine',
    inlet: 'none',
    head: [10, 80],
    efficiency: [0.6, 0.8],
    runaway: [1.4, 1.7],
    shape: [0.3, 0.7, 0.92],
  },
]
export const NETWORKS = ['bus', 'island', 'grid'] as const

export const within = (random: Random, [low, high]: Band) => low + (high - low) * random()
/** Evenly over the orders of magnitude. */
const spread = (random: Random, [low, high]: Band) => low * (high / low) ** random()

export interface Choice {
  kind: Kind
  network: (typeof NETWORKS)[number]
  isPumped: boolean
  isInduction: boolean
}

export function drawRating(random: Random, { kind, network, isPumped, isInduction }: Choice) {
  const head = spread(random, isPumped ? [Math.max(4, kind.head[0]), Math.min(40, kind.head[1])] : kind.head)
  const largest = { bus: 3000, island: 60_000, grid: 250_000 }[network]
  const power = spread(random, isPumped ? [200, 3000] : [largest / 15, largest])
  const generator = within(random, network === 'bus' ? [0.82, 0.9] : [0.86, 0.93])
  const drive =
    random() < 0.3
      ? { ratio: within(random, [1.5, 3]), efficiency: within(random, [0.95, 0.98]) }
      : { ratio: 1, efficiency: 1 }
  const turbine = within(random, kind.efficiency)
  const frequency = random() < 0.5 ? 50 : 60
  const polePairs = 1 + Math.floor(random() * 3) + (network === 'bus' ? 1 : 0)
  const slip = isInduction ? within(random, [0.01, 0.03]) : 0
  const speed = (2 * Math.PI * frequency * (1 + slip)) / polePairs
  const input = power / generator
  const acceleration = spread(random, [0.6, 3])
  return {
    power,
    input,
    head,
    generator,
    turbine,
    drive,
    frequency,
    polePairs,
    speed,
    acceleration,
    discharge: input / drive.efficiency / turbine / (RHO * G * head),
    runaway: speed * within(random, kind.runaway),
    inertia: (acceleration * input) / speed ** 2,
  }
}

export type Rating = ReturnType<typeof drawRating>
export interface Drawn extends Choice {
  rating: Rating
  seed: number
}
