import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Plugin } from 'vite'

/** Made from the code, and held to it by a test (test/server/reference). */
export const REFERENCE_FILES = ['reference.json', 'plant.schema.json', 'notify.schema.json']

/** Puts the reference, and the schemas for editors, beside the page. */
export function referenceFiles(root: string): Plugin {
  return {
    name: 'reference-files',
    generateBundle() {
      for (const fileName of REFERENCE_FILES)
        this.emitFile({
          type: 'asset',
          fileName,
          source: readFileSync(join(root, 'server', 'reference', fileName), 'utf8'),
        })
    },
  }
}
