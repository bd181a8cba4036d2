import { chmodSync, copyFileSync, existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { syncToDisk } from '../history/stores/embedded/durableFile.ts'
import { RESTORING_FILE, StartRefused } from '../state/openState.ts'
import { type BackedUpFile, describeFile, type Manifest, readBackup } from './manifest.ts'

/**
 * Puts a backup into a data folder that is empty or not there yet. Every file is checked before and after; a server does not
 * start on a folder in which this has not come to its end.
 *
 * @returns what is told to the person who asked.
 * @throws {StartRefused} where it cannot be; what was empty is empty again.
 */
export async function restore(backup: string, data: string): Promise<string> {
  const manifest = await readBackup(backup).catch(refuse)
  if (existsSync(data) && readdirSync(data).length > 0)
    throw new StartRefused(
      `${data} is not empty, and nothing is ever overwritten. Name a new folder with --data.`,
    )
  try {
    mkdirSync(data, { recursive: true })
    // also a folder that was there before
    chmodSync(data, 0o700)
    writeFileSync(join(data, RESTORING_FILE), '')
    for (const file of manifest.files) await putBack(file, backup, data)
    rmSync(join(data, RESTORING_FILE))
    syncToDisk(data)
  } catch (error) {
    for (const name of readdirSync(data)) rmSync(join(data, name), { recursive: true })
    return refuse(error)
  }
  return describe(manifest, data)
}

async function putBack({ path, sha256 }: BackedUpFile, backup: string, data: string): Promise<void> {
  const target = join(data, path)
  mkdirSync(dirname(target), { recursive: true, mode: 0o700 })
  copyFileSync(join(backup, path), target)
  // a medium without modes would leave secrets for everybody to read
  chmodSync(target, 0o600)
  syncToDisk(target)
  const copied = await describeFile(data, path)
  if (copied.sha256 !== sha256) throw new Error(`${target} is not what was read: the disk may be faulty`)
}

function describe({ at, version, files }: Manifest, data: string): string {
  const settings = files.filter(({ from }) => from !== undefined)
  return [
    `Restored to ${data}: ${files.length} files as of ${new Date(at).toISOString()}, written by Headrace ${version}.`,
    ...settings.map(({ path, from }) => `  ${join(data, path)} was ${from}`),
  ].join('\n')
}

function refuse(error: unknown): never {
  throw new StartRefused(`The backup cannot be restored: ${error instanceof Error ? error.message : error}.`)
}
