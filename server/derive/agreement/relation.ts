import type { Quantity, ValidityFloor, Way } from '../quantity.ts'

/**
 * Two ways to the same amount at a plant, e.g. the power at the generator terminals as measured and as it
 * follows from the shaft. The difference, its residual, is a figure like any other; all residuals together tell which
 * instrument does not fit.
 */
export interface Relation {
  /** Of the residual, e.g. "generatorResidual". */
  id: string
  /** Where it holds, e.g. "Shaft to generator". */
  name: string
  /** What is wrong when no instrument is, e.g. "the generator or its efficiency curve". */
  assumes: string
  /** Standard uncertainty of the relation itself as a share of the measured side; the plant file may change it. */
  share: number
  /** Instruments that it must have: a figure that was itself computed from the relation proves nothing. */
  needs: readonly string[]
  measured: string
  quantity: Quantity
}

interface RelationText
  extends Pick<Relation, 'id' | 'name' | 'assumes' | 'share' | 'needs' | 'measured'>,
    Pick<Way, 'inputs' | 'defaults' | 'constants' | 'curves' | 'applies' | 'source'>,
    Pick<Quantity, 'steady'> {
  symbol: string
  /** UCUM code of both sides. */
  unit: string
  /** UCUM code people read the residual in, where not `unit`. */
  view?: string
  expected: string
  valid?: readonly ValidityFloor[]
}

/** Both sides become one formula, so that an instrument on both sides counts once, with its sign. */
export function relation(text: RelationText): Relation {
  const { id, name, symbol, unit, view, expected, measured, assumes, share, needs, steady, ...way } = text
  return {
    id,
    name,
    assumes,
    share,
    needs,
    measured,
    quantity: {
      id,
      symbol,
      unit,
      ...(view === undefined ? {} : { view }),
      name: `${name}: residual, expected less measured`,
      group: 'balance',
      // The panel of comparisons shows them side by side.
      background: true,
      ...(steady ? { steady } : {}),
      ways: [{ ...way, formula: `(${expected}) - (${measured})` }],
    },
  }
}
