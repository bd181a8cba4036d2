import { efficiencyDischarge } from '../../../server/trials/definitions/efficiencyDischarge.ts'
import { generatorCharacteristic } from '../../../server/trials/definitions/generatorCharacteristic.ts'
import type { RunReply } from '../../../server/wire/trial.ts'
import { type BestCurve, bestCell, bestCurves, drawnCurve, otherCurves } from '../../support/bestCurves.ts'
import { type RecordedTrial, readPoints, recordTrial } from '../../support/recordedTrial.ts'
import {
  efficiencyInstruments,
  efficiencyMoves,
  generatorInstruments,
  generatorMoves,
} from '../../support/rigOperator.ts'
import { slopeCells, slopeCoverage } from '../../support/slopeCells.ts'
import { unsteadyPoints } from '../../support/unsteadyPoints.ts'
import { type Bench, type BenchOptions, type Row, shareRow } from '../bench.ts'

const NAME = 'trials'
const SEEDS = 200
/** Stretches of plant noise that the seeds of the instruments are spread over. */
const RECORDINGS = 4
const TARGET = '≥ 93 %'
/** Sets of points for each cell of the curves whose best point is known: of the sum of the cells ±1 %, of one ±9 %. */
const SETS = 24
/** Runs for each law whose constants are known: ±2 %. */
const SLOPES = 400
const COUNTS = [6, 8, 12, 20]
const SCATTERS = [0.001, 0.003, 0.006]
/** Design sheet of the rig: 18 mV per min⁻¹ of a phase, 0.28 Ω, 2.0 mH; 70 % with 3 or 4 jets of 0.901 L/s. */
const MACHINE = { k_e: (0.018 * 60) / (2 * Math.PI), R: 0.28, L: 2e-3 }
const BEST = { efficiency: 0.7, from: 3 * 0.901e-3, to: 4 * 0.9013e-3 }

/** How often the 95 % intervals that a trial states hold the truth of the simulated rig. */
export const trials: Bench = { name: NAME, run }

async function run({ isFloorOnly, share }: BenchOptions): Promise<Row[]> {
  if (isFloorOnly) return []
  const seeds = Math.max(1, Math.round(SEEDS * share))
  const captured = { points: 0, unsteady: 0 }
  const held = [...(await machineRows(seeds, captured)), ...(await bestRows(seeds, captured))]
  const what = `of ${captured.points} captured points: the true state was steady meanwhile`
  const isSteady = 1 - captured.unsteady / captured.points
  const steady = shareRow({ bench: NAME, what, share: isSteady, target: '≥ 99 %' })
  return [...held, steady, ...slopeRows(share), ...curveRows(share)]
}

/** How many points were captured, and how many of them while the true state moved. */
interface Captured {
  points: number
  unsteady: number
}

async function machineRows(seeds: number, captured: Captured): Promise<Row[]> {
  const recordings = record(generatorMoves, generatorInstruments)
  const held: Record<string, number> = { k_e: 0, R: 0, L: 0 }
  for (let seed = 1; seed <= seeds; seed++) {
    const recording = recordings[seed % RECORDINGS]!
    const reply = await readPoints(recording, { seed, trial: 'generatorCharacteristic' })
    const { result } = reply
    count(captured, reply, { recording, limits: generatorCharacteristic.steady })
    for (const [symbol, truth] of Object.entries(MACHINE)) {
      const found = result.isFitted && result.parameters.find((one) => one.symbol === symbol)
      if (found && found.low <= truth && truth <= found.high) held[symbol]! += 1
    }
  }
  return Object.entries(held).map(([symbol, times]) =>
    row(`95 % interval of ${symbol} holds the truth, ${seeds} seeds`, times / seeds),
  )
}

async function bestRows(seeds: number, captured: Captured): Promise<Row[]> {
  const recordings = record(efficiencyMoves, efficiencyInstruments)
  let places = 0
  let heights = 0
  for (let seed = 1; seed <= seeds; seed++) {
    const recording = recordings[seed % RECORDINGS]!
    const reply = await readPoints(recording, { seed, trial: 'efficiencyDischarge' })
    const { result } = reply
    count(captured, reply, { recording, limits: efficiencyDischarge.steady })
    const best = result.isFitted ? result.best : null
    if (!best) continue
    if (best.xLow <= BEST.to && best.xHigh >= BEST.from) places++
    if (best.yLow <= BEST.efficiency && best.yHigh >= BEST.efficiency) heights++
  }
  return [
    row(`95 % interval of the best discharge meets the flat top, ${seeds} seeds`, places / seeds),
    row(`95 % interval of the best efficiency holds the truth, ${seeds} seeds`, heights / seeds),
  ]
}

function slopeRows(share: number): Row[] {
  const runs = Math.max(2, Math.round(SLOPES * share))
  return Object.entries(slopeCells).flatMap(([name, cell]) =>
    slopeCoverage(cell, runs).map(({ symbol, held, width }) => ({
      ...row(`${name}: 95 % interval of ${symbol} holds the truth, ${runs} runs`, held),
      remark: `median ± ${(100 * width).toFixed(2)} %`,
    })),
  )
}

/** Two rows for each curve, number of points and scatter. */
function curveRows(share: number): Row[] {
  const runs = Math.max(2, Math.round(SETS * share))
  const curves: [string, BestCurve | typeof drawnCurve][] = [
    ...Object.entries({ ...bestCurves, ...otherCurves }),
    ['machines drawn at random', drawnCurve],
  ]
  return curves.flatMap(([name, curve]) =>
    COUNTS.flatMap((count) =>
      SCATTERS.flatMap((scatter) => {
        const cell = bestCell(curve, { count, scatter, runs })
        const where = `best point, ${name}, ${count} points, scatter ${scatter}, ${runs} sets`
        const told =
          cell.told === 0
            ? 'never told: the run says which points to add'
            : `told in ${Math.round(100 * cell.told)} %, on average to ${Math.round(100 * cell.width)} % of the range`
        return [{ ...row(`${where}: place`, cell.place), remark: told }, row(`${where}: height`, cell.height)]
      }),
    ),
  )
}

function count(
  captured: Captured,
  reply: RunReply,
  { recording, limits }: { recording: RecordedTrial; limits: Readonly<Record<string, number>> },
): void {
  captured.points += reply.points.length
  captured.unsteady += unsteadyPoints(reply, recording, limits).length
}

function record(moves: typeof generatorMoves, instruments: readonly string[]): RecordedTrial[] {
  return Array.from({ length: RECORDINGS }, (_, i) =>
    recordTrial('quennerby', { seed: i + 1, moves, instruments }),
  )
}

function row(what: string, share: number): Row {
  return shareRow({ bench: NAME, what, share, target: TARGET })
}
