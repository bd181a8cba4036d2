import { z } from 'zod'
import { figureDescription, figureValue } from './figure.ts'
import { number, text } from './shape.ts'

const input = z.object({
  symbol: text.describe('In the formula'),
  figure: figureDescription,
  value: figureValue,
})
export type ExplainInput = z.output<typeof input>

export const explainReply = z
  .object({
    figure: figureDescription,
    value: figureValue,
    formula: z
      .object({
        symbols: text.describe('With symbols, e.g. "ρ · g · Q · H_n"'),
        numbers: text
          .nullable()
          .describe('With the present SI values put in; null while an input is missing'),
        source: text,
        estimated: text.exactOptional().describe('What was assumed, where something was'),
        valid: z.array(text).describe('Conditions below which it is left blank'),
        limits: z
          .array(text)
          .exactOptional()
          .describe('Limits of its standard outside of which it is uncertain, where it has some'),
      })
      .exactOptional(),
    instrument: z
      .object({
        id: text,
        name: text,
        topic: text,
        unit: text,
        range: z.tuple([number, number]).exactOptional(),
        accuracy: text.describe('In words, e.g. "± 1 % of reading, ± 0.2 % of span"'),
      })
      .exactOptional(),
    inputs: z.array(input),
    constants: z
      .array(
        z.object({
          symbol: text,
          path: text,
          value: number.nullable().describe('Null of a curve'),
          unit: text,
          plusMinus: text.exactOptional().describe('In words; absent of what is exact'),
          assumed: text
            .exactOptional()
            .describe('By what standard or practice, where the plant file states no ±'),
        }),
      )
      .describe('Constants and curves of the plant file, where the formula uses them'),
    uncertaintyShares: z
      .array(
        z.object({
          source: text.describe('Id of the instrument, or path of the constant'),
          kind: z.enum(['instrument', 'constant']),
          name: text,
          share: number,
          assumed: text.exactOptional().describe('By what, where the plant file states no ±'),
        }),
      )
      .describe('Share of the variance by instrument and constant, largest first; empty without any'),
  })
  .meta({ id: 'Explanation' })
/** Where a figure comes from, with the numbers of now: by formula, or straight from an instrument. */
export type ExplainReply = z.output<typeof explainReply>
