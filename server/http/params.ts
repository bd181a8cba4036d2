import { z } from 'zod'
import { whole } from '../wire/shape.ts'

/** What may stand in an address after a colon; each name means the same in every route. */
export const PARAMS = {
  plant: z.string().describe('Plant id'),
  figure: z.string().describe('Figure id'),
  alarm: z.string().describe('Alarm id'),
  event: z.string().describe('Event id'),
  episode: z.string().describe('Episode id'),
  counter: z.string().describe('Counter id'),
  control: z.string().describe('Control id'),
  channel: z.string().describe('Channel id'),
  run: whole.describe('Run number'),
  point: whole.describe('Point number'),
  trace: whole.describe('Trace number'),
  replay: whole.describe('Replay number'),
  lesson: whole.describe('Lesson number'),
  question: whole.describe('Question number'),
  group: whole.describe('Group number'),
  record: whole.describe('Record number'),
  user: whole.describe('User number'),
  session: z.string().max(64).describe('Session id'),
} as const

export type ParamName = keyof typeof PARAMS

type NamesIn<Path extends string> = Path extends `${string}:${infer Name}/${infer Rest}`
  ? Name | NamesIn<Rest>
  : Path extends `${string}:${infer Name}`
    ? Name
    : never

/** The values of a path's parameters; a name that is not known here is none. */
export type ParamsOf<Path extends string> = {
  [Name in NamesIn<Path>]: Name extends ParamName ? z.output<(typeof PARAMS)[Name]> : never
}

export function paramNames(path: string): ParamName[] {
  return [...path.matchAll(/:(\w+)/g)].map(([, name]) => name as ParamName)
}
