import { coverageTrials } from '../../support/coverageTrials.ts'
import { cells } from '../../support/doubtfulPlants.ts'
import { coverCell } from '../../support/machineCoverage.ts'
import { type Bench, type BenchOptions, type Row, rowOf } from '../bench.ts'

const TRIALS = 2000
const DRAWN_PLANTS = 1000
const FIGURES: Record<string, readonly string[]> = {
  quennerby: ['netHead', 'hydraulicPower', 'turbineEfficiency'],
  skelderwath: ['netHead', 'hydraulicPower', 'turbineEfficiency'],
}

/**
 * How often the 95 % interval shown held the simulator's truth, its constants written a little wrong; then the same of
 * plants drawn outside of server and simulator (test/support/doubtfulPlants.ts), with the median width. No time is measured here, hence no repetitions: the
 * same seeds give the same rates. The floor is what the interval promises.
 */
export const coverage: Bench = { name: 'coverage', run }

async function run({ isFloorOnly, share }: BenchOptions): Promise<Row[]> {
  if (isFloorOnly) return []
  const seeds = Array.from({ length: Math.round(TRIALS * share) }, (_, i) => i + 1)
  const simulated = Object.entries(FIGURES).flatMap(([plant, figures]) =>
    coverageTrials(plant, figures, seeds).map(({ figure, trials, covered }) =>
      rowOf({
        bench: 'coverage',
        what: `${plant}, ${figure}, truth inside u95`,
        unit: `% of ${trials}`,
        target: '93–97',
        runs: { headrace: [(100 * covered) / trials], floor: [95] },
      }),
    ),
  )
  const drawn = cells.flatMap((cell) =>
    coverCell(cell, Math.round(DRAWN_PLANTS * share)).map(({ figure, trials, covered, width }) =>
      rowOf({
        bench: 'coverage',
        what: `${cell.name}: ${figure}, truth inside u95`,
        unit: `% of ${trials}`,
        target: '≥ 93',
        runs: { headrace: [(100 * covered) / trials], floor: [95] },
        remark: `median ± ${(100 * width).toFixed(2)} %`,
      }),
    ),
  )
  return [...simulated, ...drawn]
}
