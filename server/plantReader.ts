import { Worker } from 'node:worker_threads'
import { workerUrl } from './history/workerUrl.ts'
import type { PlantFilesResult } from './plantFiles.ts'

/** A file that is lawful and as long as it may be takes half a second to a second; this [ms] is far beyond any. */
const PATIENCE_MS = 60_000

/** Reads plant files in a thread of its own, which ends with it: over-speed is heard meanwhile. Never rejects. */
export function readPlantFilesAside(files: readonly string[]): Promise<PlantFilesResult> {
  return new Promise((resolve) => {
    const worker = new Worker(workerUrl(import.meta.url, './plantReaderWorker'), {
      name: 'plant files',
      workerData: files,
    })
    const refuse = (why: string) => resolve({ complaints: [`The plant files could not be read: ${why}.`] })
    const timer = setTimeout(() => {
      refuse(`it took longer than ${PATIENCE_MS / 1000} s`)
      void worker.terminate()
    }, PATIENCE_MS)
    worker.once('message', resolve)
    worker.once('error', (error) => refuse(error instanceof Error ? error.message : String(error)))
    worker.once('exit', () => {
      clearTimeout(timer)
      refuse('their thread ended')
    })
  })
}

/** Follows one change after the other; of those that come while one is being read, the last alone is read. */
export function createPlantFollower(
  read: () => Promise<PlantFilesResult>,
  take: (result: PlantFilesResult) => void,
): { changed(): void; close(): void } {
  let isReading = false
  let isChanged = false
  let isClosed = false

  async function follow(): Promise<void> {
    isReading = true
    while (isChanged) {
      isChanged = false
      const result = await read()
      if (isClosed) return
      if (!isChanged) take(result)
    }
    isReading = false
  }

  return {
    changed() {
      isChanged = true
      if (!isReading) void follow()
    },
    close() {
      isClosed = true
    },
  }
}
