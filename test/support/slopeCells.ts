import { createRandom, type Random } from '../../server/statistics/bootstrap.ts'
import { fitCurve } from '../../server/trials/fit/fitCurve.ts'
import type { FitPoint } from '../../server/trials/fit/laid.ts'
import { createNormal } from './normal.ts'

/**
 * Laws whose constants are known, measured with instruments that err in ways the server's model does not have: what a class
 * limits is shared among zero, gain, linearity, hysteresis (up and down again) and drift over the run, in proportions drawn anew.
 * Numbers are our own, sizes those of small machines.
 */
export interface SlopeCell {
  model: string
  /** Constants that are looked for. */
  truth: Readonly<Record<string, number>>
  /** Raw quantities of a point, `place` going from 0 to 1 along the abscissa. */
  at(place: number): Readonly<Record<string, number>>
  /** Limits of the instrument of each raw quantity, as a share of the reading and fixed. */
  limits: Readonly<Record<string, readonly [share: number, fixed: number]>>
  /** What the curve is laid through, of raw readings and constants. */
  symbols(raw: Readonly<Record<string, number>>): Readonly<Record<string, number>>
  /** Constants of the plant file with the half-width of their limits, by symbol. */
  constants?: Readonly<Record<string, readonly [value: number, half: number]>>
}

const G = 9.81
const MACHINE = { k_e: 0.172, R: 0.28, L: 2e-3 }
const PAIRS = 2

export const slopeCells: Readonly<Record<string, SlopeCell>> = {
  'generator over current': {
    model: 'permanentMagnet',
    truth: MACHINE,
    at(place) {
      const [current, frequency] = [1 + 7 * place, 50]
      const electrical = 2 * Math.PI * frequency
      const emf = (MACHINE.k_e * electrical) / PAIRS
      const voltage = Math.sqrt(emf ** 2 - (current * electrical * MACHINE.L) ** 2) - current * MACHINE.R
      return { current, frequency, voltage }
    },
    limits: { current: [0.003, 0.01], voltage: [0.002, 0.0375], frequency: [0, 0.01] },
    symbols: ({ current, frequency, voltage }) => ({ x: current!, y: voltage!, f: frequency!, p: PAIRS }),
  },
  'voltage without load': {
    model: 'voltageConstant',
    truth: { k_e: 0.172 },
    at: (place) => ({ speed: 80 + 60 * place, voltage: 0.172 * (80 + 60 * place) }),
    limits: { speed: [0.001, 0.1], voltage: [0.002, 0.0375] },
    symbols: ({ speed, voltage }) => ({ x: speed!, y: voltage! }),
  },
  'pipe loss': {
    model: 'pipeLoss',
    truth: { k: 2.4e5 },
    at(place) {
      const discharge = 1e-3 + 2.6e-3 * place
      return { discharge, above: 26, below: 26 - 2.4e5 * discharge ** 2 }
    },
    limits: { discharge: [0.005, 5e-6], above: [0, 0.04], below: [0, 0.04] },
    symbols: ({ discharge, above, below }) => ({ x: discharge!, y: above! - below! }),
  },
  'pipe loss, free exponent': {
    model: 'powerLaw',
    truth: { m: 2 },
    at(place) {
      const discharge = 1e-3 + 2.6e-3 * place
      return { discharge, above: 26, below: 26 - 2.4e5 * discharge ** 2 }
    },
    limits: { discharge: [0.005, 5e-6], above: [0, 0.04], below: [0, 0.04] },
    symbols: ({ discharge, above, below }) => ({ x: discharge!, y: above! - below! }),
  },
  'nozzle, its bore a little wrong': {
    model: 'nozzleLaw',
    truth: { C_d: 0.94 },
    constants: { d: [0.012, 1e-4] },
    at(place) {
      const head = 8 + 18 * place
      return { head, discharge: 0.94 * (Math.PI / 4) * 0.012 ** 2 * Math.sqrt(2 * G * head) }
    },
    limits: { head: [0, 0.1], discharge: [0.005, 2e-6] },
    symbols: ({ head, discharge }) => ({ x: head!, y: discharge!, N: 1, g: G }),
  },
  'pump curve': {
    model: 'pumpCurve',
    truth: { H_0: 36, k: 0.708e6 },
    at(place) {
      const discharge = 0.9e-3 + 2.7e-3 * place
      return { discharge, head: 36 - 0.708e6 * discharge ** 2 }
    },
    limits: { discharge: [0.005, 5e-6], head: [0, 0.1] },
    symbols: ({ discharge, head }) => ({ x: discharge!, y: head!, s: 1 }),
  },
  'inverter losses': {
    model: 'inverterLosses',
    truth: { P_0: 9, a: 0.05 },
    at(place) {
      const output = 60 + 540 * place
      return { output, input: 9 + 1.05 * output + 9.45e-5 * output ** 2 }
    },
    limits: { output: [0.002, 0.5], input: [0.002, 0.5] },
    symbols: ({ output, input }) => ({ x: output!, y: output! / input! }),
  },
  'torque over speed': {
    model: 'runawayLaw',
    truth: { T_0: 6.3, ω_r: 289, m: 1.5 },
    at(place) {
      const speed = 90 + 90 * place
      return { speed, torque: 6.3 * (1 - (speed / 289) ** 1.5) }
    },
    limits: { speed: [0.001, 0.1], torque: [0, 0.03] },
    symbols: ({ speed, torque }) => ({ x: speed!, y: torque! }),
  },
}

export interface SlopeCoverage {
  symbol: string
  /** Share of the runs whose interval holds the truth. */
  held: number
  /** Median half-width, of the value. */
  width: number
}

const UP = 8
const DOWN = 4
/** Scatter of a mean, of the limit of its instrument: between these. */
const [LEAST_SCATTER, MOST_SCATTER] = [0.005, 0.1]

/** `runs` runs of eight points up, half of them with four down again, each with instruments and constants of its own. */
export function slopeCoverage(cell: SlopeCell, runs: number): SlopeCoverage[] {
  const found = Object.keys(cell.truth).map((symbol) => ({ symbol, held: 0, widths: [] as number[] }))
  for (let seed = 1; seed <= runs; seed++) {
    const result = fitCurve({
      model: cell.model,
      constants: {},
      best: false,
      seed,
      points: drawRun(cell, createRandom(seed)),
    })
    for (const one of found) {
      const parameter = result.isFitted && result.parameters.find(({ symbol }) => symbol === one.symbol)
      if (!parameter) continue
      const { value, low, high } = parameter
      if (low <= cell.truth[one.symbol]! && cell.truth[one.symbol]! <= high) one.held++
      one.widths.push((high - low) / 2 / Math.abs(value))
    }
  }
  return found.map(({ symbol, held, widths }) => ({
    symbol,
    held: held / runs,
    width: widths.sort((a, b) => a - b)[Math.floor(widths.length / 2)] ?? Number.NaN,
  }))
}

function drawRun(cell: SlopeCell, random: Random): FitPoint[] {
  const normal = createNormal(random)
  const around = () => 2 * random() - 1
  const scatter = LEAST_SCATTER * (MOST_SCATTER / LEAST_SCATTER) ** random()
  const places = Array.from({ length: random() < 0.5 ? UP : UP + DOWN }, (_, i) =>
    i < UP ? i / (UP - 1) : (UP + DOWN - 1 - i) / (DOWN - 1),
  )
  const top = cell.at(1)
  const errors = Object.fromEntries(Object.keys(cell.limits).map((name) => [name, drawError(random)]))
  // What the plant file says is wrong, not nature.
  const constants = Object.entries(cell.constants ?? {}).map(
    ([symbol, [value, half]]) => [symbol, value + half * around()] as const,
  )
  return places.map((place, i) => {
    const truth = cell.at(place)
    const raw: Record<string, number> = {}
    const standard: Record<string, number> = {}
    for (const [name, value] of Object.entries(truth)) {
      const [share, fixed] = cell.limits[name]!
      const limit = share * Math.abs(value) + fixed
      const size = Math.abs(value) / Math.max(Math.abs(value), Math.abs(top[name]!))
      const moment = { size, isUp: i < UP, time: i / (places.length - 1) }
      raw[name] = value + limit * (errors[name]!(moment) + scatter * normal())
      standard[name] = limit / Math.sqrt(3)
    }
    return pointOf(cell, { number: i + 1, raw, standard, constants })
  })
}

interface Moment {
  /** Of the reading, against the largest. */
  size: number
  isUp: boolean
  /** In the run, from 0 to 1. */
  time: number
}

/** Error of a worn instrument, of its limit. */
function drawError(random: Random): (moment: Moment) => number {
  const around = () => 2 * random() - 1
  const parts = Array.from({ length: 5 }, random)
  const sum = parts.reduce((total, part) => total + part, 0)
  const [zero, gain, bow, back, drift] = parts.map((part) => (part / sum) * around())
  return ({ size, isUp, time }) =>
    zero! + gain! * size + bow! * (4 * size * (1 - size)) + (isUp ? back! : -back!) + drift! * (2 * time - 1)
}

interface RawPoint {
  number: number
  raw: Readonly<Record<string, number>>
  standard: Readonly<Record<string, number>>
  constants: readonly (readonly [symbol: string, value: number])[]
}

/** As the server has it: what each instrument's standard uncertainty does to each symbol. */
function pointOf(cell: SlopeCell, { number, raw, standard, constants }: RawPoint): FitPoint {
  const means = { ...cell.symbols(raw), ...Object.fromEntries(constants) }
  const typeB: FitPoint['typeB'] = {}
  const flat: Record<string, number> = {}
  for (const [name, u] of Object.entries(standard)) {
    const moved = cell.symbols({ ...raw, [name]: raw[name]! + u })
    typeB[name] = Object.fromEntries(
      Object.entries(moved).map(([symbol, value]) => [symbol, value - means[symbol]!]),
    )
    flat[name] = 1
  }
  for (const [symbol, [, half]] of Object.entries(cell.constants ?? {})) {
    typeB[`constant: ${symbol}`] = { [symbol]: half / Math.sqrt(3) }
    flat[`constant: ${symbol}`] = 1
  }
  return { number, means, typeB, flat }
}
