import type { core, z } from 'zod'
import { plantFileSchema } from './schema.ts'

/**
 * What can be read of a plant file whose schema does not hold, so that the faults behind the first ones are told in the
 * same go: what is faulty is left out, or something stands in for it where it cannot be. Nothing of it ever runs.
 */

type Path = readonly PropertyKey[]
type Json = Record<string, unknown>

/** Each goes one level further up from what still does not hold. */
const ROUNDS = 4

const STAND_INS: Readonly<Record<string, unknown>> = {
  headrace: 1,
  id: 'faulty',
  name: 'Faulty',
  use: 'offGrid',
  site: { timeZone: 'UTC' },
}

/** Of an alarm that could not be read. */
export const STAND_IN_KIND = 'faulty'

const LISTS: Readonly<Record<string, (i: number) => Json>> = {
  instruments: (i) => ({ id: `faulty-${i}`, topic: `faulty/${i}`, unit: '1' }),
  figures: (i) => ({ id: `faulty-figure-${i}`, name: 'Faulty', formula: '1', unit: '1' }),
  alarms: (i) => ({ id: `faulty-${i}`, name: 'Faulty', kind: STAND_IN_KIND, priority: 'low' }),
}

/** The file without what is faulty; undefined where nothing is left to look at. */
export function mendPlantFile(
  raw: unknown,
  issues: readonly core.$ZodIssue[],
): z.output<typeof plantFileSchema> | undefined {
  const bare = structuredClone(raw)
  if (!isRecord(bare)) return undefined
  let left = issues
  for (let round = 0; round < ROUNDS; round++) {
    for (const issue of left) for (const path of faultyPaths(issue)) leaveOut(bare, path, round)
    const parsed = plantFileSchema.safeParse(bare)
    if (parsed.success) return parsed.data
    left = parsed.error.issues
  }
  return undefined
}

function faultyPaths(issue: core.$ZodIssue): Path[] {
  return issue.code === 'unrecognized_keys' ? issue.keys.map((key) => [...issue.path, key]) : [issue.path]
}

function leaveOut(bare: Json, path: Path, round: number): void {
  const [section, i, field] = path
  if (section === undefined) return
  const list = bare[String(section)]
  const makeEntry = Object.hasOwn(LISTS, section) ? LISTS[String(section)] : undefined
  if (makeEntry && Array.isArray(list) && typeof i === 'number') {
    const standIn = makeEntry(i)
    if (field === undefined || round > 1 || !isRecord(list[i])) list[i] = standIn
    else if (Object.hasOwn(standIn, field)) list[i][String(field)] = standIn[String(field)]
    else delete list[i][String(field)]
    return
  }
  if (path.length === 1 && Object.hasOwn(STAND_INS, section))
    bare[String(section)] = STAND_INS[String(section)]
  else remove(bare, path.slice(0, Math.max(1, path.length - round)))
}

function remove(bare: Json, path: Path): void {
  const holder = path
    .slice(0, -1)
    .reduce<unknown>((value, key) => (isRecord(value) ? value[String(key)] : undefined), bare)
  const key = String(path.at(-1))
  if (isRecord(holder)) delete holder[key]
  // an entry of a list that is none of the three: the list as a whole
  else if (path.length > 1) remove(bare, path.slice(0, -1))
}

function isRecord(value: unknown): value is Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
