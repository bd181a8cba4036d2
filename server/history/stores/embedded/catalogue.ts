import type { DuckDBConnection } from '@duckdb/node-api'
import { quote } from './sqlText.ts'

/** The numbers that stand for signal names in the hot table. Sealed files hold the names themselves. */
export interface Catalogue {
  /** In the order of their numbers: 0, 1, 2 … */
  names(): readonly string[]
  /** −1 for a name that has no row in the hot table. */
  idOf(name: string): number
  /** Notes names within the transaction that is open; they count once `confirm` is called after its commit. */
  note(names: readonly string[]): Promise<void>
  confirm(): void
  /** After a transaction that was rolled back. */
  forget(): void
}

export async function readCatalogue(writer: DuckDBConnection): Promise<Catalogue> {
  const rows = (await writer.runAndReadAll('SELECT name FROM signal ORDER BY id')).getRows()
  const names = rows.map(([name]) => String(name))
  const ids = new Map(names.map((name, id) => [name, id]))
  let confirmed = names.length
  return {
    names: () => names,
    idOf: (name) => ids.get(name) ?? -1,
    async note(candidates) {
      const fresh = candidates.filter((name) => !ids.has(name))
      for (const name of fresh) ids.set(name, names.push(name) - 1)
      const values = fresh.map((name) => `(${ids.get(name)}, ${quote(name)})`)
      if (fresh.length > 0) await writer.run(`INSERT INTO signal VALUES ${values.join(', ')}`)
    },
    confirm() {
      confirmed = names.length
    },
    forget() {
      for (const name of names.splice(confirmed)) ids.delete(name)
    },
  }
}
