import type { PointsFound, TracesFound } from '../results/foundRun.ts'
import type { Decision, StoredPoint } from '../takeStore.ts'

/** What a pack is made of; plain values, so that it can go to another thread. */
export type PackedRun = PackedPoints | PackedTraces

interface PackedHead {
  /** Points, in a run of traces the typed ones, byte for byte. */
  stored: StoredPoint[]
  decisions: Decision[]
  /** The plant file of then; null where the plant came from no file. */
  plantText: string | null
}

export interface PackedPoints extends PointsFound, PackedHead {}

export interface PackedTraces extends TracesFound, PackedHead {
  /** Pieces of the traces as stored, by number. */
  raw: Record<number, string[]>
}
