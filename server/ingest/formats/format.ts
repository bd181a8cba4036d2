import type { Instrument } from '../../plant/plant.ts'

/** One value of a payload, before scaling. */
export interface Sample {
  value: number
  /** Time of measurement [ms UTC], where the payload carries one. Not yet checked for being believable. */
  at?: number
  /** Highest value since the message before, where the instrument holds it. */
  peak?: number
  /** Something about the sample that is not as it should be; it is used all the same, as uncertain. */
  doubt?: string
}

/** Why a payload, or a part of it, gave no sample. Read as "FOUND, expected EXPECTED. KEPT". */
export interface Fault {
  /** What came and where, e.g. 'field "/netHead" is "12,4" (text)'. */
  found: string
  /** e.g. 'a number in m'. */
  expected: string
  /** What was done, as a sentence; default: the instrument keeps its last value, which ages */
  kept?: string
}

/** What one payload holds for one instrument. */
export interface Decoded {
  samples: readonly Sample[]
  fault?: Fault
  /** Instead of `fault` where having nothing is all right as long as another instrument of the topic has something. */
  absent?: Fault
}

/**
 * A way to write values into a payload. The work is split so that a payload with values for many instruments is
 * parsed once: `parse` per packet, `picker` once per instrument at start, its result per packet and instrument.
 *
 * Neither throws for anything that can come from the network.
 */
export interface Format<Settings, Document> {
  parse(payload: Uint8Array): { document: Document } | { fault: Fault }
  picker(settings: Settings, instrument: Instrument): (document: Document) => Decoded
}

export function faulty(found: string, expected: string): Decoded {
  return { samples: [], fault: { found, expected } }
}
