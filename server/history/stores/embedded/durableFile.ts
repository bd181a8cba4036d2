import { closeSync, fsyncSync, openSync, renameSync } from 'node:fs'
import { dirname } from 'node:path'

/**
 * Gives a finished file its name so that it is there whole or not at all, also after a power cut: contents to
 * the disk, then the name, then the folder that holds the name.
 */
export function publishFile(temporary: string, path: string): void {
  syncToDisk(temporary)
  renameSync(temporary, path)
  syncToDisk(dirname(path))
}

/** Forces a file's contents, or a folder's list of names, to the disk. */
export function syncToDisk(path: string): void {
  const handle = openSync(path, 'r')
  try {
    fsyncSync(handle)
  } finally {
    closeSync(handle)
  }
}
