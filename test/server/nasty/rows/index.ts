import type { NastyRow } from '../row.ts'
import { clocks } from './clocks.ts'
import { electrical } from './electrical.ts'
import { jumps } from './jumps.ts'
import { machine } from './machine.ts'
import { payloads } from './payloads.ts'
import { units } from './units.ts'
import { water } from './water.ts'

/** The table of bad input. */
export const rows: readonly NastyRow[] = [
  ...water,
  ...electrical,
  ...units,
  ...machine,
  ...jumps,
  ...clocks,
  ...payloads,
]
