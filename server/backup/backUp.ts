import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { basename, dirname, join, relative, resolve, sep } from 'node:path'
import { dataFolderOf } from '../demo.ts'
import { syncToDisk } from '../history/stores/embedded/durableFile.ts'
import { namedFiles, type Options } from '../options.ts'
import { copyRows, PEOPLE_FILE, StartRefused, WATCH_FILE } from '../state/openState.ts'
import { VERSION } from '../version.ts'
import { copyHistory } from './copyHistory.ts'
import { describeFile, MANIFEST, type Manifest } from './manifest.ts'

/** Where files of settings lie in a backup. */
export const SETTINGS = 'settings'

/**
 * Writes everything that a server has stored, and the files that the options name, into a new folder. The server may run
 * meanwhile: rows are as they were at one moment, history is of that moment or a little later.
 *
 * @returns what is told to the person who asked.
 * @throws {StartRefused} where it cannot be; nothing is left then.
 */
export async function backUp(target: string, options: Options): Promise<string> {
  const folder = dataFolderOf(options)
  if (!existsSync(join(folder.path, WATCH_FILE)))
    throw new StartRefused(`There is nothing to back up in ${folder.path}. Name the data folder with --data.`)
  if (existsSync(target) && (!statSync(target).isDirectory() || readdirSync(target).length > 0))
    throw new StartRefused(`${target} is not an empty folder. A backup is written into a new one.`)
  const making = `${resolve(target)}.making`
  makeNew(making)
  try {
    const at = Date.now()
    for (const name of [WATCH_FILE, PEOPLE_FILE]) copyRows(folder.path, making, name)
    for (const name of readdirSync(folder.path))
      if (/^audit(\.\d)?\.jsonl$/.test(name)) copyFileSync(join(folder.path, name), join(making, name))
    await copyHistory(folder.history, join(making, 'history'))
    const settings = copySettings(options, making)
    const manifest = await writeManifest(making, { at, settings })
    if (existsSync(target)) rmSync(target, { recursive: true })
    renameSync(making, target)
    syncToDisk(dirname(resolve(target)))
    return describe(target, manifest)
  } catch (error) {
    rmSync(making, { recursive: true, force: true })
    throw new StartRefused(`The backup could not be made: ${error instanceof Error ? error.message : error}.`)
  }
}

/** @throws {StartRefused} where it is there: it may hold what somebody else put there. */
function makeNew(folder: string): void {
  mkdirSync(dirname(folder), { recursive: true })
  try {
    mkdirSync(folder, { mode: 0o700 })
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException
    if (code !== 'EEXIST') throw new StartRefused(`${folder} cannot be made: ${message}.`)
    throw new StartRefused(
      `${folder} is there already, perhaps of a backup that was cut short. Remove it, or name another folder.`,
    )
  }
}

/** @returns where each of them came from, by its path in the backup. */
function copySettings(options: Options, making: string): Map<string, string> {
  mkdirSync(join(making, SETTINGS))
  return new Map(
    namedFiles(options).map((file, i) => {
      const path = `${SETTINGS}/${i + 1}-${basename(file)}`
      copyFileSync(file, join(making, path))
      return [path, resolve(file)]
    }),
  )
}

/** Last, and only when everything that it names is on the disk. */
async function writeManifest(
  making: string,
  { at, settings }: { at: number; settings: ReadonlyMap<string, string> },
): Promise<Manifest> {
  const files: Manifest['files'] = []
  for (const path of filesIn(making)) {
    syncToDisk(join(making, path))
    const from = settings.get(path)
    files.push({ ...(await describeFile(making, path)), ...(from === undefined ? {} : { from }) })
  }
  const manifest: Manifest = { headraceBackup: 1, version: VERSION, at, files }
  writeFileSync(join(making, MANIFEST), `${JSON.stringify(manifest, null, 2)}\n`, { mode: 0o600 })
  syncToDisk(join(making, MANIFEST))
  return manifest
}

function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => statSync(join(folder, path)).isFile())
    .map((path) => relative('.', path).split(sep).join('/'))
    .sort()
}

function describe(target: string, { at, files }: Manifest): string {
  const bytes = files.reduce((sum, one) => sum + one.bytes, 0)
  return `Backed up to ${target}: ${files.length} files, ${(bytes / 1e6).toFixed(1)} MB, as of ${new Date(at).toISOString()}. Passwords and keys are among them: keep it where only you can read it.`
}
