import type { NotesVersion, PointResults, RunSummary, TraceResults } from '../../wire/trial.ts'
import type { Plot } from '../plot/plot.ts'
import type { PointMethod, TraceMethod } from '../runMethod.ts'
import type { RunStore } from '../runStore.ts'
import type { Decision, StoredPoint } from '../takeStore.ts'

/** A run with how it was done and what it says; plain values. */
export type FoundRun = PointsFound | TracesFound

interface PointsFound extends PointResults {
  summary: RunSummary
  method: PointMethod
}

interface TracesFound extends TraceResults {
  summary: RunSummary
  method: TraceMethod
}

/** What a pack is made of; plain values, so that it can go to another thread. */
export type PackedRun = PackedPoints | PackedTraces

interface PackedHead {
  /** Points, in a run of traces the typed ones, byte for byte. */
  stored: StoredPoint[]
  decisions: Decision[]
  /** Names and notes as they were saved, oldest first. */
  versions: NotesVersion[]
  /** The plant file of then; null where the plant came from no file. */
  plantText: string | null
}

export interface PackedPoints extends PointsFound, PackedHead {}

export interface PackedTraces extends TracesFound, PackedHead {
  /** Pieces of the traces as stored, by number. */
  raw: Record<number, string[]>
}

/** Everything that pack and record of a run are made of. */
export function gatherRun(store: RunStore, found: FoundRun): PackedRun {
  const run = found.summary.id
  const { plantFile } = found.method
  const head = {
    stored: store.storedPoints(run),
    decisions: store.decisions(run),
    versions: store.versions(run),
    plantText: (plantFile && store.plantFile(plantFile.sha256)) ?? null,
  }
  if (found.takes === 'points') return { ...found, ...head }
  const raw = Object.fromEntries(found.traces.map(({ number }) => [number, store.raw(run, number)]))
  return { ...found, ...head, raw }
}

/** Lines of text under a title; without lines it is left out. */
export type Section = [title: string, lines: readonly string[]]

/** What is of its own in the pack of a run of points, or of traces; all else is the same for both. */
export interface PackParts {
  /** For the method sheet: how it was taken, what it says, and each point or trace. */
  how: Section[]
  result: Section[]
  taken: Section[]
  /** For the record as HTML: the same three. */
  howHtml: string
  takenHtml: string
  resultHtml: string
  plots: Map<string, Plot>
  /** Further files by name, and what is in them. */
  texts: () => Record<string, string>
  files: string[]
}
