import { createEvaluator } from '../../server/derive/evaluate.ts'
import { nodeOf, type Plan, planFigures } from '../../server/derive/plan.ts'
import { toSi, unitOf } from '../../server/wire/units.ts'
import { createRandom } from '../../simulator/random.ts'
import type { Cell } from './doubtfulPlants.ts'
import { createDraw, type DoubtfulPlant } from './drawnTruth.ts'
import { START } from './manualClock.ts'
import { plantOf } from './plants.ts'
import { drawReadings, idOf, instrumentLine } from './wornInstruments.ts'

/** How often the interval shown held what is true, by figure of a cell, and how wide it was. */
export interface CellCoverage {
  figure: string
  trials: number
  covered: number
  /** Median U95 as a share of the value. */
  width: number
}

/**
 * Another plant, other constants and other instruments in every trial.
 *
 * @param isExact The server is told that all constants are exact: what it would be without their ±.
 */
export function coverCell(cell: Cell, trials: number, isExact = false): CellCoverage[] {
  const found = cell.figures.map((figure) => ({ figure, covered: 0, widths: [] as number[] }))
  for (let seed = 1; seed <= trials; seed++) {
    const random = createRandom(seed, cell.name)
    const plant = cell.draw(createDraw(random))
    const view = play(plant, random, isExact)
    for (const one of found) {
      const { value, u95 = 0 } = view(one.figure)
      if (value === null) throw new Error(`${cell.name}, seed ${seed}: no ${one.figure}`)
      if (Math.abs(value - plant.truth[one.figure]!) <= u95) one.covered++
      one.widths.push(u95 / Math.abs(value))
    }
  }
  return found.map(({ figure, covered, widths }) => ({
    figure,
    trials,
    covered,
    width: widths.sort((a, b) => a - b)[Math.floor(widths.length / 2)]!,
  }))
}

function play({ sections, instruments }: DoubtfulPlant, random: () => number, isExact: boolean) {
  const plant = plantOf(
    [
      'headrace: 1',
      'id: drawn',
      'name: Drawn',
      'use: rig',
      ...sections,
      'instruments:',
      ...instruments.map(instrumentLine),
    ].join('\n'),
  )
  const plan = isExact ? withoutDoubt(planFigures(plant)) : planFigures(plant)
  const evaluator = createEvaluator(plan)
  evaluator.setConnected(true)
  const common = new Map<string, number>()
  const places = instruments.map(({ calibration }) => {
    if (calibration === undefined) return undefined
    if (!common.has(calibration)) common.set(calibration, 2 * random() - 1)
    return common.get(calibration)
  })
  const readings = instruments.map((one, i) => drawReadings(one, random, places[i]))
  const count = readings[0]!.length
  for (let second = 0; second < count; second++) {
    const at = START + second * 1000
    for (const [i, { role, unit }] of instruments.entries())
      evaluator.take({
        plant: plant.id,
        instrument: idOf(role),
        quantity: role,
        value: toSi(readings[i]![second]!, unitOf(unit)),
        measuredAt: at,
        receivedAt: at,
        quality: 'good',
        reasons: [],
      })
    evaluator.evaluate(at)
  }
  return (figure: string) => evaluator.view(nodeOf(plan, figure)!.index)
}

function withoutDoubt(plan: Plan): Plan {
  const nodes = plan.nodes.map((node) => (node.kind === 'derived' ? { ...node, doubtful: [] } : node))
  return { ...plan, nodes, doubtful: [] }
}
