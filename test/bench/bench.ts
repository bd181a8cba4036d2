/** One line of the table. */
export interface Row {
  bench: string
  what: string
  unit: string
  /** Median over the repetitions; undefined where only the floor was run. */
  headrace: number | undefined
  /** Undefined for what has none beside it, such as a rate of success. */
  floor: number | undefined
  /** Headrace over floor. */
  ratio: number | undefined
  target: string
  /** Every repetition, in the order in which they ran. */
  runs: { headrace: number[]; floor: number[] }
  /** What a reader has to know about this figure, e.g. lost messages. */
  remark?: string
}

export interface BenchOptions {
  /** Only the floor, without Headrace. */
  isFloorOnly: boolean
  /** Headrace and floor take turns this many times. */
  repetitions: number
  /** Share of the full amount of messages and alarms, for a quick look; figures of such runs mean little. */
  share: number
}

export interface Bench {
  name: string
  run(options: BenchOptions): Promise<Row[]>
}

type Figures = Omit<Row, 'headrace' | 'floor' | 'ratio'>

/** Makes the row: medians of the runs and their ratio. */
export function rowOf(figures: Figures): Row {
  const { headrace, floor } = figures.runs
  const medianFloor = floor.length > 0 ? quantile(floor, 0.5) : undefined
  const medianHeadrace = headrace.length > 0 ? quantile(headrace, 0.5) : undefined
  return {
    ...figures,
    headrace: medianHeadrace,
    floor: medianFloor,
    ratio:
      medianHeadrace === undefined || medianFloor === undefined ? undefined : medianHeadrace / medianFloor,
  }
}

/** A share of trials, to which there is no floor. */
export function shareRow(row: Pick<Row, 'bench' | 'what' | 'target' | 'remark'> & { share: number }): Row {
  const { share, ...text } = row
  const percent = 100 * share
  return {
    ...text,
    unit: '%',
    headrace: percent,
    floor: undefined,
    ratio: undefined,
    runs: { headrace: [percent], floor: [] },
  }
}

/** The value that a share `p` of `values` does not exceed (nearest rank). NaN of none. */
export function quantile(values: readonly number[], p: number): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.max(0, Math.ceil(p * sorted.length) - 1)] ?? Number.NaN
}
