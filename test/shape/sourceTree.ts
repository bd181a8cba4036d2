import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, posix } from 'node:path'
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
  /** `text` without comments. */
  code: string
  imports: Import[]
}

const FOLDERS = ['server', 'web', 'simulator', 'test']
const IMPORT = /^\s*(?:import|export)\s+(type\s+)?([^'"()]*?)\s*\bfrom\s+['"]([^'"]+)['"]/gm
const BARE_IMPORT = /^\s*import\s+['"]([^'"]+)['"]/gm
const LAZY_IMPORT = /\bimport\(\s*['"]([^'"]+)['"]\s*\)/g

/** Every TypeScript file of the tree. */
export function readSources(): SourceFile[] {
  return FOLDERS.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .filter((path) => /\.tsx?$/.test(path) && !path.includes('.output'))
      .map((path) => sourceFile(posix.join(folder, path.replaceAll('\\', '/')))),
  ).sort((a, b) => (a.path < b.path ? -1 : 1))
}

export function sourceFile(path: string, text = readFileSync(join(root, path), 'utf8')): SourceFile {
  const code = withoutComments(text)
  return { path, text, code, imports: findImports(path, code) }
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

function findImports(path: string, code: string): Import[] {
  const resolve = (specifier: string, isTypeOnly: boolean): Import => {
    const isOurs = specifier.startsWith('.')
    return { target: isOurs ? posix.join(dirname(path), specifier) : specifier, isOurs, isTypeOnly }
  }
  return [
    ...[...code.matchAll(IMPORT)].map((match) => resolve(match[3]!, !!match[1] || hasOnlyTypes(match[2]!))),
    ...[...code.matchAll(BARE_IMPORT), ...code.matchAll(LAZY_IMPORT)].map((match) =>
      resolve(match[1]!, false),
    ),
  ]
}

/** "{ type A, type B }": nothing is left of such an import but its side effects, and we have none. */
function hasOnlyTypes(clause: string): boolean {
  const names = /^\{([^}]*)\}$/.exec(clause.trim())?.[1]
  if (names === undefined) return false
  return names
    .split(',')
    .filter((name) => name.trim() !== '')
    .every((name) => /^\s*type\s/.test(name))
}

/** Good enough for what is looked for here: a "//" inside a string keeps its line when a ":" or quote precedes it. */
function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[\s;,{}()])\/\/.*$/gm, '$1')
}
