import { childrenOf, type Node, type SourceFile, syntaxTree } from './sourceTree.ts'

/** A function, and how many lines of it are not lines of functions inside it: a factory counts by those. */
export interface FunctionLines {
  /** "server/main.ts:12". */
  place: string
  ownLines: number
}

const IS_FUNCTION = /^(?:FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/

/** Every function of a file. */
export function functionLines(file: Pick<SourceFile, 'path' | 'text'>): FunctionLines[] {
  const found: FunctionLines[] = []
  const lineOf = (offset: number) => file.text.slice(0, offset).split('\n').length
  const linesOf = (node: Node) => {
    const first = lineOf(node.start)
    return Array.from({ length: lineOf(node.end) - first + 1 }, (_, i) => first + i)
  }
  /** Lines that functions in `node` stand on, and those functions noted. */
  const visit = (node: Node): number[] => {
    const inside = childrenOf(node).flatMap(visit)
    if (!IS_FUNCTION.test(node.type)) return inside
    const lines = linesOf(node)
    const ownLines = lines.length - new Set(inside).size
    found.push({ place: `${file.path}:${lines[0]}`, ownLines })
    return lines
  }
  visit(syntaxTree(file))
  return found
}
