import { z } from 'zod'
import { figureValue } from './figure.ts'
import { number, text, time } from './shape.ts'

/**
 * Whether a plant's instruments agree with each other.
 * agrees: every relation holds within what is known of it · suspect: one cause, or a few that cannot be told
 * apart, explains what does not fit · notJudged: nothing to compare, or not steady.
 */
export type AgreementState = AgreementLine['state']

export const agreementLine = z.object({
  state: z.enum(['agrees', 'suspect', 'notJudged']),
  sentence: text.describe('E.g. "Discharge reads about 3.1 % high."'),
})
/** For the head of a screen. */
export type AgreementLine = z.output<typeof agreementLine>

const suspect = z.object({
  kind: z
    .enum(['instrument', 'swapped', 'relation'])
    .describe(
      'It reads wrong; two are in each other’s place; or what the relation takes for granted does not hold',
    ),
  id: text.describe('Of the instrument, of both with a comma between, or of the residual'),
  name: text.describe('E.g. "Discharge", or "the runner or its efficiency curve"'),
  says: text.describe('What it would have to be off by, e.g. "reads about 3.1 % high"'),
})
export type AgreementSuspect = z.output<typeof suspect>

const relation = z.object({
  id: text.describe('Of the figure that is the residual'),
  name: text,
  expected: figureValue,
  measured: figureValue,
  residual: figureValue.describe(
    'Expected less measured, mean of the window; u95 has the own uncertainty of the relation in it',
  ),
  deviate: number.nullable().describe('Residual over its standard uncertainty; null when not judged'),
  unit: text,
  viewUnit: text,
})
/** Two ways to one amount. */
export type RelationView = z.output<typeof relation>

const reconciled = z.object({
  instrument: text,
  figure: text,
  name: text,
  measured: figureValue,
  reconciled: figureValue.describe('The value that fits all relations best'),
  deviate: number.describe('Test of the hypothesis that it alone is wrong, in standard deviations'),
})
export type ReconciledInstrument = z.output<typeof reconciled>

export const agreementReply = agreementLine.extend({
  at: time,
  suspects: z
    .array(suspect)
    .describe('What would explain the misfit, likeliest first; several when they cannot be told apart'),
  relations: z.array(relation),
  instruments: z.array(reconciled),
  isExplained: z
    .boolean()
    .describe('False: even the likeliest leaves more than chance does, e.g. when two things are wrong'),
  largest: number.describe('The largest test, in standard deviations'),
  threshold: number.describe('How far a test goes before anybody is suspected, in standard deviations'),
})
export type AgreementReply = z.output<typeof agreementReply>
