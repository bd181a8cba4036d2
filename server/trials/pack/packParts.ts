import type { Plot } from '../plot/plot.ts'

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
