import type { FoundRun } from '../results/foundRun.ts'
import type { RunStore } from '../runStore.ts'
import type { PackedRun } from './packedRun.ts'

/** Everything that pack and record of a run are made of. */
export function gatherRun(store: RunStore, found: FoundRun): PackedRun {
  const run = found.summary.id
  const { plantFile } = found.method
  const head = {
    stored: store.storedPoints(run),
    decisions: store.decisions(run),
    plantText: (plantFile && store.plantFile(plantFile.sha256)) ?? null,
  }
  if (found.takes === 'points') return { ...found, ...head }
  const raw = Object.fromEntries(found.traces.map(({ number }) => [number, store.raw(run, number)]))
  return { ...found, ...head, raw }
}
