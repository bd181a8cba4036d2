import { type Cell, cellOf, faultsOf } from '../../support/attributionCells.ts'
import { type InstrumentFault, lookAt } from '../../support/faultyInstruments.ts'
import { type OperatedPlant, operateDrawn, operatePlant } from '../../support/operatedPlant.ts'
import { misjudged } from '../../support/recordedRig.ts'
import { type Bench, type BenchOptions, type Row, shareRow } from '../bench.ts'

const PLANTS = ['quennerby', 'ostrelby', 'skelderwath'] as const
const KINDS = ['gain', 'zero', 'stuck', 'swapped'] as const
const SAYS: Readonly<Record<InstrumentFault['kind'], string>> = {
  gain: '5 % high',
  zero: 'zero 5 % of the range high',
  stuck: 'stuck since the point before',
  swapped: 'two of a kind swapped',
}
/** Draws of instruments and constants for each fault at each point, and of sound plants at each point. */
const SEEDS = 4
const SOUND = 100
/** Machines that nobody tuned: every kind of turbine on every network once. */
const DRAWN = 24
const NAME = 'attribution'

/**
 * Every instrument of the demo plants in turn made wrong in every way, at three operating points, with instruments whose
 * errors are drawn otherwise than the server supposes and constants of the plant file that are off by what it states.
 * How often it is named, alone or among those that cannot be told apart; how often others are; and how often anybody is
 * while all are sound. A fault that no more than a class explains need not be named: that is the "weak" part.
 */
export const attribution: Bench = { name: NAME, run }

async function run({ isFloorOnly, share }: BenchOptions): Promise<Row[]> {
  if (isFloorOnly) return []
  const some = (full: number) => Math.max(1, Math.round(full * share))
  const demo = PLANTS.flatMap((id) => groupRows(id, [operatePlant(id, 1)], [some(SEEDS), some(SOUND)]))
  const machines = Array.from({ length: some(DRAWN) }, (_, seed) => operateDrawn(seed))
  return [...demo, ...groupRows(`${machines.length} machines drawn`, machines, [1, 5])]
}

/** @param draws Of instruments and constants for each fault at each point, and for each point of sound ones. */
function groupRows(name: string, plants: readonly OperatedPlant[], draws: readonly [number, number]): Row[] {
  const rows = KINDS.flatMap((kind) => rowsOf({ name, plants, kind, seeds: draws[0] }))
  return [...rows, soundRow(name, plants, draws[1])]
}

interface Group {
  name: string
  plants: readonly OperatedPlant[]
  kind: InstrumentFault['kind']
  seeds: number
}

function rowsOf({ name, plants, kind, seeds }: Group): Row[] {
  const numbers = Array.from({ length: seeds }, (_, i) => i + 1)
  const cells = plants.flatMap((operated) =>
    faultsOf(operated)
      .filter((fault) => fault.kind === kind)
      .flatMap((fault) => {
        const found = operated.points.map((_, i) => cellOf(operated, i, fault, numbers))
        printCells(operated.plant.id, found)
        return found
      }),
  )
  if (cells.length === 0) return []
  const strong = sumOf(cells.filter((cell) => cell.isDetectable))
  const weak = sumOf(cells.filter((cell) => !cell.isDetectable))
  const what = `${name}, ${SAYS[kind]}`
  const remark = (sum: Sum) =>
    `right ${sum.right}, among ${sum.among}, silent ${sum.silent}, wrong ${sum.wrong}; ${(sum.named / Math.max(1, sum.right + sum.among + sum.wrong)).toFixed(1)} named`
  return [
    shareRow({
      bench: NAME,
      what: `${what}: named, alone or among`,
      share: (strong.right + strong.among) / drawsOf(strong),
      target: '≥ 95 %',
      remark: remark(strong),
    }),
    shareRow({
      bench: NAME,
      what: `${what}, weak ones too: only others named`,
      share: (strong.wrong + weak.wrong) / (drawsOf(strong) + drawsOf(weak)),
      target: '≤ 1 %',
      remark: `weak: ${remark(weak)}`,
    }),
  ]
}

/** Nobody is to be suspected. */
function soundRow(name: string, plants: readonly OperatedPlant[], seeds: number): Row {
  const looks = plants.flatMap((operated) =>
    operated.points.flatMap((_, point) =>
      Array.from({ length: seeds }, (_, i) => {
        const known = misjudged(operated.plant, i + 1)
        return lookAt({ operated, point, known, seed: i + 1 }).suspects.length
      }),
    ),
  )
  const accused = looks.filter((suspects) => suspects > 0).length
  return shareRow({
    bench: NAME,
    what: `${name}, sound instruments: nobody suspected`,
    share: 1 - accused / looks.length,
    target: '≥ 99 %',
    remark: `${accused} of ${looks.length}`,
  })
}

interface Sum extends Record<keyof Cell['counts'], number> {
  named: number
}

function sumOf(cells: readonly Cell[]): Sum {
  const sum: Sum = { right: 0, among: 0, silent: 0, wrong: 0, named: 0 }
  for (const { counts, named } of cells) {
    for (const [outcome, count] of Object.entries(counts)) sum[outcome as keyof Cell['counts']] += count
    sum.named += named
  }
  return sum
}

function drawsOf({ right, among, silent, wrong }: Sum): number {
  return right + among + silent + wrong
}

/** One line for each fault; the table that follows has the sums. */
function printCells(plant: string, cells: readonly Cell[]): void {
  const { kind, instrument, other } = cells[0]!.fault
  const parts = cells.map(({ point, strength, isDetectable, counts }) => {
    const { right, among, silent, wrong } = counts
    if (right + among + silent + wrong === 0) return `${point}: no relation sees it`
    return `${point} (${strength.toFixed(1)}${isDetectable ? '' : ', weak'}): right ${right}, among ${among}, silent ${silent}, wrong ${wrong}`
  })
  console.log(
    `${plant} · ${other ? `${instrument} and ${other}` : instrument} · ${kind} · ${parts.join(' · ')}`,
  )
}
