import { z } from 'zod'
import { figureGroup } from '../wire/figure.ts'
import { idField, quantityField, unitField } from './fields.ts'

/** Figures of a plant's own: the section `figures` of the plant file. */

const LONGEST_FORMULA = 500
export const MOST_OWN_FIGURES = 100

const symbolField = z
  .string()
  .regex(/^[A-Za-z][A-Za-z0-9_]{0,31}$/, {
    error: 'expected a symbol: a letter, then up to 31 letters, digits or "_"',
  })
  .refine((name) => name !== 'pi', { error: 'expected a symbol other than pi, which is 3.14159…' })

const formula = z
  .string()
  .trim()
  .min(1)
  .max(LONGEST_FORMULA, { error: `expected a formula of at most ${LONGEST_FORMULA} characters` })

/** An input: a quantity id, or "jetOpen.*" for all of a kind as a list. */
const inputField = z.union([quantityField, z.string().regex(/^[A-Za-z][A-Za-z0-9_-]{0,63}\.\*$/)], {
  error: 'expected a figure such as "netHead", "jetOpen.2" or "jetOpen.*"',
})

const amountField = z.union([z.string(), z.number()], { error: 'expected an amount such as "0.35 m3"' })

export const ownFigure = z.strictObject({
  id: idField,
  name: z.string().min(1).max(80),
  symbol: z.string().min(1).max(20).optional(),
  formula,
  /** Symbol → figure; where the symbol is the figure's id it may be left out. */
  inputs: z.record(symbolField, inputField).default({}),
  /** Symbol → path in the plant file ("turbine.pitchDiameter") or an amount with its unit ("0.35 m3"). */
  constants: z.record(symbolField, amountField).default({}),
  /** UCUM code; the formula computes in SI and has to give this kind of amount. */
  unit: unitField,
  /** UCUM code that people read it in; default `unit`. */
  view: unitField.optional(),
  group: figureGroup.exclude(['balance']).default('condition'),
  /** Left blank, with the sentence `otherwise`, where a test does not hold. */
  valid: z
    .array(z.strictObject({ test: formula, otherwise: z.string().min(1).max(200) }))
    .max(8)
    .default([]),
  /** Shown but flagged outside of this. */
  possible: z
    .strictObject({
      low: amountField.optional(),
      high: amountField.optional(),
      suspects: z.string().min(1).max(200),
    })
    .optional(),
  source: z.string().min(1).max(300).optional(),
})
