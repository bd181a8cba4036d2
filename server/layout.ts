/** How rows are laid out in a file: as they are today, and how the layout of every release becomes the next one. */
export interface Layout {
  version: number
  /** SQL that makes the tables of a new file. */
  tables: string
  /** SQL by the version that it starts from, none left out. The lowest is that of the first release. */
  steps: Readonly<Record<number, string>>
}

/** @returns the steps that bring a file of this version up to date; undefined where there is no way. */
export function stepsFrom(found: number, { version, steps }: Layout): string[] | undefined {
  const way = Array.from({ length: Math.max(0, version - found) }, (_, i) => steps[found + i])
  return found <= version && way.every((step) => step !== undefined) ? way : undefined
}
