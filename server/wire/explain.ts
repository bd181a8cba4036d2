import type { FigureDescription, FigureValue } from './figure.ts'

/** GET /api/plants/:p/figures/:f/explain: where a figure comes from, with today's numbers. */
export interface ExplainReply {
  figure: FigureDescription
  value: FigureValue
  /** How it is got: by formula, or straight from an instrument. */
  formula?: {
    /** With symbols, e.g. "ρ · g · Q · H_n". */
    symbols: string
    /** The same with the present SI values put in; null while an input is missing. */
    numbers: string | null
    source: string
    /** What was assumed, where something was. */
    estimated?: string
    /** Conditions below which it is left blank. */
    valid: string[]
  }
  instrument?: {
    id: string
    name: string
    topic: string
    unit: string
    range?: [number, number]
    /** In words, e.g. "± 1 % of reading, ± 0.2 % of span". */
    accuracy: string
  }
  inputs: ExplainInput[]
  /** Constants of the plant file that the formula uses. */
  constants: { symbol: string; path: string; value: number; unit: string }[]
  /** Share of the variance by instrument, largest first; empty without stated accuracies. */
  uncertaintyShares: { instrument: string; name: string; share: number }[]
}

export interface ExplainInput {
  /** In the formula. */
  symbol: string
  figure: FigureDescription
  value: FigureValue
}
