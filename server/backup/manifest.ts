import { createHash } from 'node:crypto'
import { createReadStream, readFileSync, statSync } from 'node:fs'
import { dirname, join, normalize } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { z } from 'zod'

/** The list of what is in a backup, the last file that is written of it. */
export const MANIFEST = 'backup.json'

const entry = z.strictObject({
  /** Within the backup, with "/" between folders. */
  path: z.string().min(1).max(1000).refine(staysInside, { error: 'expected a path inside the backup' }),
  bytes: z.number().int().min(0),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  /** Where a file of settings lay; what has none is of the data folder. */
  from: z.string().exactOptional(),
})

const manifest = z.strictObject({
  headraceBackup: z.literal(1),
  version: z.string(),
  /** When the rows of the watch were copied [ms UTC]. */
  at: z.number(),
  files: z.array(entry).min(1),
})

export type Manifest = z.output<typeof manifest>
export type BackedUpFile = Manifest['files'][number]

function staysInside(path: string): boolean {
  const plain = normalize(path)
  return plain === path && !path.startsWith('/') && !path.startsWith('..')
}

/** @throws {Error} with one sentence where the folder holds no whole backup, or a file of it is not as it was written. */
export async function readBackup(folder: string): Promise<Manifest> {
  const read = manifest.safeParse(parse(join(folder, MANIFEST)))
  if (!read.success)
    throw new Error(
      `${join(folder, MANIFEST)} is not the list of a backup: ${z.prettifyError(read.error).split('\n')[0]}`,
    )
  for (const { path, bytes, sha256 } of read.data.files) {
    const found = await describeFile(folder, path)
    if (found.bytes !== bytes || found.sha256 !== sha256)
      throw new Error(`${join(folder, path)} is not as it was written: the backup is damaged`)
  }
  return read.data
}

function parse(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, 'utf8'))
  } catch (error) {
    throw new Error(
      `${dirname(file)} holds no whole backup: ${error instanceof Error ? error.message : error}`,
    )
  }
}

/** A file as it lies on the disk, read once through. */
export async function describeFile(folder: string, path: string): Promise<BackedUpFile> {
  const file = join(folder, path)
  const hash = createHash('sha256')
  try {
    await pipeline(createReadStream(file), hash)
    return { path, bytes: statSync(file).size, sha256: hash.digest('hex') }
  } catch (error) {
    throw new Error(`${file} cannot be read: ${error instanceof Error ? error.message : error}`)
  }
}
