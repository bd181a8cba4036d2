import type { Plant } from '../plant/plant.ts'
import type { ConstantSlots } from './constantSlots.ts'
import { compileExpression, type Expression, type SymbolBinding } from './expression.ts'
import type { FormulaFunction } from './formulaFunctions.ts'
import type { ValidityFloor } from './quantity.ts'

/** A test of a way, compiled. */
export type Compiled<T> = Omit<T, 'test'> & { test: Expression }

interface Scope {
  plant: Plant
  symbols: ReadonlyMap<string, SymbolBinding>
  functions: Readonly<Record<string, FormulaFunction>>
  constants: ConstantSlots
}

/** Compiles the tests of one way; those whose constants the plant lacks are left out. */
export function testCompiler({ plant, symbols, functions, constants }: Scope) {
  return <T extends Omit<ValidityFloor, 'isFault'>>(tests: readonly T[] = []): Compiled<T>[] =>
    tests
      .filter((one) => Object.values(one.constants ?? {}).every((path) => plant.constants.has(path)))
      .map((one) => ({
        ...one,
        test: compileExpression(one.test, new Map([...symbols, ...constants.bind(one.constants)]), functions),
      }))
}
