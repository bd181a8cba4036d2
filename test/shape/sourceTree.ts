import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, posix } from 'node:path'
import { parseSync } from 'vite'
import { root } from '../support/root.ts'

/** One import or re-export of a source file. */
export interface Import {
  /** Path from the repository root for our own files, else the package name or "node:…". */
  target: string
  isOurs: boolean
  /** True where nothing of it is left at run time. */
  isTypeOnly: boolean
}

export interface SourceFile {
  /** From the repository root, with "/". */
  path: string
  text: string
  imports: Import[]
}

/** A part of the syntax tree (ESTree): what is read here of it. */
export interface Node {
  type: string
  start: number
  end: number
}

const FOLDERS = ['server', 'web', 'simulator', 'test']

/** Every TypeScript file of the tree. */
export function readSources(): SourceFile[] {
  return FOLDERS.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .filter((path) => /\.tsx?$/.test(path) && !path.includes('.output'))
      .map((path) => sourceFile(posix.join(folder, path.replaceAll('\\', '/')))),
  ).sort((a, b) => (a.path < b.path ? -1 : 1))
}

export function sourceFile(path: string, text = readFileSync(join(root, path), 'utf8')): SourceFile {
  return { path, text, imports: findImports(path, text) }
}

/** The syntax tree of a file. */
export function syntaxTree({ path, text }: Pick<SourceFile, 'path' | 'text'>): Node {
  return parseSync(path, text).program
}

/** The nodes directly below one. */
export function childrenOf(node: Node): Node[] {
  return Object.values(node)
    .flat()
    .filter((value) => typeof value?.type === 'string')
}

/** Files reached from `file` by imports that are left at run time, itself included. */
export function reachable(file: SourceFile, byPath: ReadonlyMap<string, SourceFile>): SourceFile[] {
  const seen = new Set<SourceFile>([file])
  for (const one of seen) {
    for (const { target, isOurs, isTypeOnly } of one.imports) {
      const next = isOurs && !isTypeOnly ? byPath.get(target) : undefined
      if (next) seen.add(next)
    }
  }
  return [...seen]
}

/** The first import cycle found, as a list of paths, or undefined. */
export function findCycle(files: readonly SourceFile[]): string[] | undefined {
  const byPath = new Map(files.map((file) => [file.path, file]))
  const done = new Set<string>()
  const visit = (file: SourceFile, way: readonly string[]): string[] | undefined => {
    if (way.includes(file.path)) return [...way.slice(way.indexOf(file.path)), file.path]
    if (done.has(file.path)) return undefined
    for (const { target } of file.imports) {
      const next = byPath.get(target)
      const cycle = next && visit(next, [...way, file.path])
      if (cycle) return cycle
    }
    done.add(file.path)
    return undefined
  }
  for (const file of files) {
    const cycle = visit(file, [])
    if (cycle) return cycle
  }
  return undefined
}

/** Package of an import that is not ours: "@duckdb/node-api", "mqtt", "node:fs". */
export function packageOf(target: string): string {
  if (target.startsWith('node:')) return target
  return target
    .split('/')
    .slice(0, target.startsWith('@') ? 2 : 1)
    .join('/')
}

function findImports(path: string, text: string): Import[] {
  const { module } = parseSync(path, text)
  const found = (specifier: string, isTypeOnly: boolean): Import => {
    const isOurs = specifier.startsWith('.')
    return { target: isOurs ? posix.join(dirname(path), specifier) : specifier, isOurs, isTypeOnly }
  }
  const areTypes = (entries: readonly { isType: boolean }[]) =>
    entries.length > 0 && entries.every((entry) => entry.isType)
  return [
    ...module.staticImports.map(({ moduleRequest, entries }) =>
      found(moduleRequest.value, areTypes(entries)),
    ),
    ...module.staticExports.flatMap(({ entries }) => {
      const from = entries[0]?.moduleRequest
      return from ? [found(from.value, areTypes(entries))] : []
    }),
    // the request of a lazy import is given as a range that includes the quotes
    ...module.dynamicImports.map(({ moduleRequest }) =>
      found(text.slice(moduleRequest.start + 1, moduleRequest.end - 1), false),
    ),
  ]
}
