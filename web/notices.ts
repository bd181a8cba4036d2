import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Plugin } from 'vite'

/** A package that the page or the server ships, as package-lock.json has it. */
interface Shipped {
  name: string
  version: string
  licence: string
  source: string
  /** What its authors ask to be handed on with it. */
  text: string
}

interface LockEntry {
  name?: string
  version: string
  dev?: boolean
  license?: string
}

interface PackageFile {
  repository?: string | { url: string }
  homepage?: string
  /** As some old packages have it. */
  licenses?: { type: string }[]
}

const FILES = /^(?:licen[cs]e|notice|copying|copyright)/i
const RULE = '='.repeat(100)

/** Adds the licences and notices of all that is shipped to the page, as `notices.txt`. */
export function notices(root: string): Plugin {
  return {
    name: 'headrace:notices',
    generateBundle() {
      this.emitFile({ type: 'asset', fileName: 'notices.txt', source: noticesOf(root) })
    },
  }
}

/** Licences and notices of all that is shipped, on any kind of machine; packages with the same text share it. */
export function noticesOf(root: string): string {
  const own = readFileSync(join(root, 'LICENSE'), 'utf8').trim()
  const shared = new Map<string, Shipped[]>()
  for (const one of shippedOf(root)) shared.set(one.text, [...(shared.get(one.text) ?? []), one])
  const parts = [...shared].map(([text, packages]) => `${packages.map(headOf).join('\n')}\n\n${text}`)
  return [`Headrace\n\n${own}`, ...parts, ''].join(`\n\n${RULE}\n\n`)
}

function headOf({ name, version, licence, source }: Shipped): string {
  return [`${name} ${version}`, licence, source].filter((one) => one !== '').join(' · ')
}

function shippedOf(root: string): Shipped[] {
  const { packages } = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, LockEntry>
  }
  return Object.entries(packages)
    .filter(([path, { dev }]) => path !== '' && !dev)
    .map(([path, { name, version, license = '' }]) => ({
      name: name ?? path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length),
      version,
      ...readPackage(join(root, path), license),
    }))
    .toSorted((a, b) => (a.name < b.name ? -1 : 1))
}

function readPackage(folder: string, licence: string): Pick<Shipped, 'licence' | 'source' | 'text'> {
  if (!existsSync(folder))
    return { licence, source: '', text: 'For machines of another kind: its text lies in the package.' }
  const file = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as PackageFile
  const { repository, homepage = '', licenses = [] } = file
  const texts = readdirSync(folder)
    .filter((name) => FILES.test(name))
    .toSorted()
    .map((name) => readFileSync(join(folder, name), 'utf8').replaceAll('\r\n', '\n').trim())
  return {
    licence: licence || licenses.map(({ type }) => type).join(' OR '),
    source: (typeof repository === 'string' ? repository : repository?.url) ?? homepage,
    text:
      [...new Set(texts)].join('\n\n') ||
      'The package has no text of its own; the licence is the one named above.',
  }
}
