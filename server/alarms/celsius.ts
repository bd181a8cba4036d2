import { isNode, type MathNode, parseFormula } from '../derive/expression.ts'
import { unitOf } from '../wire/units.ts'

const COMPARISONS = ['larger', 'largerEq', 'smaller', 'smallerEq', 'equal', 'unequal']
const ZERO_CELSIUS = unitOf('Cel').offset

/** What an amount in °C stands beside: 1 for a temperature, 0 for a difference of temperatures, else neither. */
export type TemperatureShare = (formula: string) => number

/**
 * The same formula with every "40 Cel" written in K. In "T > 40 Cel" that is 313.15 K, in "T - T_a > 40 Cel" it is
 * 40 K: which of the two is told by the other side of the comparison, and where nothing tells, it is refused.
 */
export function inKelvin(formula: string, shareOf: TemperatureShare): { text: string } | { fault: string } {
  const tree = parseFormula(formula)
  if (!namesCelsius(tree)) return { text: formula }
  let fault: string | undefined
  const replaced = tree.transform((node) => {
    if (!isNode(node, 'OperatorNode') || !COMPARISONS.includes(node.fn)) return node
    const amount = node.args.find(isAmount)
    const other = node.args.find((side) => !namesCelsius(side))
    if (!amount || !other) return node
    const share = shareOf(other.toString())
    if (share !== 0 && share !== 1)
      fault ??= `"${other.toString()}" is neither a temperature nor a difference of two; write K`
    const kelvin = parseFormula(`${celsiusOf(amount) + share * ZERO_CELSIUS} K`)
    return node.map((side: MathNode) => (side === amount ? kelvin : side))
  })
  if (namesCelsius(replaced))
    fault ??= '"Cel" stands for itself on one side of a comparison, as in "T > 40 Cel"; elsewhere write K'
  return fault === undefined ? { text: replaced.toString() } : { fault }
}

function namesCelsius(node: MathNode): boolean {
  return node.filter((part) => isNode(part, 'SymbolNode') && part.name === 'Cel').length > 0
}

/** "40 Cel" or "-5 Cel". */
function isAmount(node: MathNode): boolean {
  return !Number.isNaN(celsiusOf(node))
}

function celsiusOf(node: MathNode): number {
  const match = /^(-?[\d.]+(?:e[-+]?\d+)?) (?:\* )?Cel$/i.exec(node.toString())
  return Number(match?.[1] ?? Number.NaN)
}
