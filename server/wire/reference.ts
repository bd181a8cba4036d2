/** What can be written in plant and notification files, and what is computed from it. */
export interface Reference {
  tables: ReferenceTable[]
}

export interface ReferenceTable {
  id: string
  title: string
  /** What it is for, in a sentence or two. */
  says: string
  heads: string[]
  /** As many cells as heads. */
  rows: string[][]
}
