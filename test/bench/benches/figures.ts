import { createEvaluator } from '../../../server/derive/evaluate.ts'
import { type Plan, planFigures } from '../../../server/derive/plan.ts'
import type { Quantity } from '../../../server/derive/quantity.ts'
import { createRandom } from '../../../server/statistics/bootstrap.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf } from '../../support/plants.ts'
import { type Bench, type BenchOptions, quantile, type Row, rowOf } from '../bench.ts'

const INSTRUMENTS = 200
const FIGURES = 150
const TICKS = 3000
const WARM_UP = 300
const TICK_MS = 200

/**
 * One tick of a large plant in which every instrument has sent since the last one: all figures with quality, reasons
 * and 95 % interval, as a frame for the browser needs them. The floor computes the same formulas and nothing else.
 */
export const figures: Bench = { name: 'figures', run }

async function run({ isFloorOnly, repetitions, share }: BenchOptions): Promise<Row[]> {
  const plan = planFigures(plantOf(plantText()), quantities())
  const ticks = Math.round(TICKS * share)
  const runs = { headrace: [] as number[], floor: [] as number[] }
  for (let i = 0; i < repetitions; i++) {
    runs.floor.push(measureFloor(plan, ticks))
    if (!isFloorOnly) runs.headrace.push(measureTick(plan, ticks))
  }
  const derived = plan.nodes.length - INSTRUMENTS
  return [
    rowOf({
      bench: 'figures',
      what: `tick of ${INSTRUMENTS} instruments, ${derived} figures with u95, 60 of them with a constant that errs, all changed`,
      unit: 'ms median',
      target: '≤ 1 ms',
      runs,
    }),
  ]
}

function measureTick(plan: Plan, ticks: number): number {
  const evaluator = createEvaluator(plan)
  evaluator.setConnected(true)
  const random = createRandom(1)
  const times: number[] = []
  for (let tick = 0; tick < WARM_UP + ticks; tick++) {
    const now = START + tick * TICK_MS
    for (const { id, quantity } of plan.plant.instruments)
      evaluator.take({
        plant: plan.plant.id,
        instrument: id,
        quantity,
        value: 100 + random(),
        measuredAt: now,
        receivedAt: now,
        quality: 'good',
        reasons: [],
      })
    const start = performance.now()
    for (const index of evaluator.evaluate(now)) evaluator.view(index)
    times.push(performance.now() - start)
  }
  return quantile(times.slice(WARM_UP), 0.5)
}

function measureFloor(plan: Plan, ticks: number): number {
  const column = Float64Array.from(plan.column)
  const random = createRandom(1)
  const times: number[] = []
  for (let tick = 0; tick < WARM_UP + ticks; tick++) {
    for (let i = 0; i < INSTRUMENTS; i++) column[i] = 100 + random()
    const start = performance.now()
    for (const node of plan.nodes)
      if (node.kind === 'derived') column[node.index] = node.expression.evaluate(column)
    times.push(performance.now() - start)
  }
  return quantile(times.slice(WARM_UP), 0.5)
}

function plantText(): string {
  const instruments = Array.from(
    { length: INSTRUMENTS },
    (_, i) =>
      `  - { id: x${i}, topic: bench/x${i}, unit: "1", range: [0, 200], accuracy: { reading: 0.5 %, span: 0.1 %, resolution: 0.01 }, period: 200 ms }`,
  )
  return [
    'headrace: 1',
    'id: bench',
    'name: Bench plant',
    'use: rig',
    'site: { timeZone: Etc/UTC }',
    'turbine: { kind: pelton, nozzleCoefficient: 0.94 ± 2 %, driveEfficiency: 0.97 ± 0.01 }',
    'charger: { efficiency: 0.95 ± 0.01, rectifierEfficiency: 0.98 ± 0.005 }',
    'instruments:',
    ...instruments,
  ].join('\n')
}

const FACTORS = [
  'turbine.nozzleCoefficient',
  'turbine.driveEfficiency',
  'charger.efficiency',
  'charger.rectifierEfficiency',
]

/** As at a real plant: two to four inputs each, every third figure from figures, up to four levels deep; two in five use a constant. */
function quantities(): Quantity[] {
  const shapes: [formula: string, inputsOf: (i: number) => string[], constant?: string[]][] = [
    ['a * b / (c + d)', (i) => [x(i), x(i + 50), x(i + 100), x(i + 150)]],
    ['sqrt(a^2 + b^2)', (i) => [x(i), x(i + 75)]],
    ['C * a / (a + b)', (i) => [`y${i - 2}`, `y${i - 1}`], FACTORS],
    ['C * a * b', (i) => [x(i), `y${i - 1}`], FACTORS],
    ['(a - b) / c', (i) => [`y${i - 1}`, `y${i - 4}`, x(i)]],
  ]
  return Array.from({ length: FIGURES }, (_, i): Quantity => {
    const [formula, inputsOf, factors] = shapes[i % shapes.length]!
    const constants = factors ? { C: factors[i % factors.length]! } : {}
    const inputs = Object.fromEntries(inputsOf(i).map((id, position) => ['abcd'[position]!, id]))
    const id = `y${i}`
    return {
      id,
      name: id,
      symbol: id,
      unit: '1',
      view: '1',
      group: 'efficiency',
      ways: [{ formula, inputs, constants, source: 'bench' }],
    }
  })
}

function x(i: number): string {
  return `x${i % INSTRUMENTS}`
}
