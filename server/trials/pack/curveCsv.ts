import type { TheoryView, TrialResult } from '../../wire/findings.ts'
import { csvLine } from './csv.ts'
import type { PackedPoints } from './packedRun.ts'

/** The lines of the plots, SI units: what was fitted, with its band, and what the plant file predicts. */
export function curveCsv({ method, result, unitResult, theory, unitTheory }: PackedPoints): string {
  const { view } = method
  const unitOf = (wanted: string | null) => view.figures.find(({ id }) => id === wanted)?.unit ?? ''
  const block = (
    ids: [string | null, string | null],
    fitted: TrialResult | null,
    lines: TheoryView | null,
  ) => {
    const start = [ids[0] ?? '', unitOf(ids[0]), ids[1] ?? '', unitOf(ids[1])] as const
    const curve = fitted?.isFitted ? fitted.curve : { x: [], y: [], low: [], high: [] }
    return [
      ...curve.x.map((x, i) => csvLine(['fitted', ...start, x, curve.y[i]!, curve.low[i]!, curve.high[i]!])),
      ...(lines?.lines ?? []).flatMap((line, at) =>
        line.x.map((x, i) => csvLine([`plant file ${at + 1}`, ...start, x, line.y[i]!, '', ''])),
      ),
    ]
  }
  return [
    csvLine(['line', 'abscissa', 'x_unit', 'ordinate', 'y_unit', 'x', 'y', 'low95', 'high95']),
    ...block([view.abscissa, view.ordinate], result, theory),
    ...block([view.unitAbscissa, view.unitOrdinate], unitResult, unitTheory),
  ].join('')
}
