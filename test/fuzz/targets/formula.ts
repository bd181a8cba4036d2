import fc from 'fast-check'
import { compileExpression, FormulaFault, type SymbolBinding } from '../../../server/derive/expression.ts'
import { formulaFunctions } from '../../../server/derive/formulaFunctions.ts'
import { physicalFunctions } from '../../../server/derive/physicalFunctions.ts'
import { damaged, rubbish } from '../rubbish.ts'
import { demand, opened, type Target } from '../target.ts'

/** Plain numbers, a length, a list of three. */
const SYMBOLS: ReadonlyMap<string, SymbolBinding> = new Map([
  ['a', { slots: [0], dimension: [0, 0, 0, 0, 0] }],
  ['b', { slots: [1], dimension: [0, 0, 0, 0, 0] }],
  ['h', { slots: [2], dimension: [1, 0, 0, 0, 0] }],
  ['s', { slots: [3, 4, 5], dimension: [0, 0, 0, 0, 0] }],
])
/** As long as a plant file may have it (server/plant/schema.ts). */
const LONGEST = 500

const FUNCTIONS = [...Object.keys(formulaFunctions), ...Object.keys(physicalFunctions)]
const OPERATORS = [
  '+',
  '-',
  '*',
  '/',
  '^',
  '<',
  '<=',
  '==',
  '!=',
  '>',
  ' and ',
  ' or ',
  ' xor ',
  '%',
  '.*',
  ':',
  '=',
  ' in ',
  ' to ',
  '!',
  "'",
  ';',
]

const formula = fc.letrec<{ part: string }>((tie) => ({
  part: fc.oneof(
    { maxDepth: 6, depthSize: 'small' },
    fc.constantFrom(
      'a',
      'b',
      'h',
      's',
      'pi',
      'e',
      'i',
      'true',
      'end',
      '0',
      '1',
      '2',
      '1e308',
      'NaN',
      'Infinity',
    ),
    fc.double({ noNaN: true }).map(String),
    fc.tuple(tie('part'), fc.constantFrom(...OPERATORS), tie('part')).map((all) => all.join('')),
    fc.tuple(fc.constantFrom('-', 'not ', '+', '~'), tie('part')).map((all) => all.join('')),
    tie('part').map((inner) => `(${inner})`),
    fc
      .tuple(
        fc.constantFrom(...FUNCTIONS, 'toString', 'constructor', 'eval', 'import', 'f'),
        fc.array(tie('part'), { maxLength: 4 }),
      )
      .map(([name, args]) => `${name}(${args.join(', ')})`),
    fc.tuple(tie('part'), tie('part'), tie('part')).map(([test, yes, no]) => `(${test} ? ${yes} : ${no})`),
    fc.tuple(tie('part'), rubbish).map(([inner, more]) => `${inner}[${more}]`),
  ),
})).part

interface Case {
  text: string
  column: number[]
}

export const formulaTarget: Target = {
  name: 'formula',
  share: 0.13,
  open: () =>
    opened<Case>({
      cases: fc.record({
        text: fc.oneof(formula, damaged(formula), rubbish).map((text) => text.slice(0, LONGEST)),
        column: fc.array(fc.double(), { minLength: 6, maxLength: 6 }),
      }),
      run({ text, column }) {
        try {
          const result = compileExpression(text, SYMBOLS).evaluate(Float64Array.from(column))
          demand(typeof result === 'number', () => `it gave ${typeof result}`)
        } catch (error) {
          if (!(error instanceof FormulaFault)) throw error
        }
      },
    }),
}
