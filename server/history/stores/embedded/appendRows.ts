import type { Database } from './database.ts'
import type { Rows } from './messages.ts'
import { inTransaction, rowsOf } from './sql.ts'

/** The names of signals and their numbers in the file. */
export interface Catalogue {
  idOf(name: string): number | undefined
  /** Numbers for names that may be new; new ones are written with the transaction that is open. */
  add(names: readonly string[]): Promise<number[]>
}

export async function openCatalogue({ writer }: Database): Promise<Catalogue> {
  const rows = await rowsOf<{ id: number; name: string }>(writer, 'SELECT id, name FROM signal')
  const ids = new Map(rows.map(({ id, name }) => [name, id]))
  return {
    idOf: (name) => ids.get(name),
    async add(names) {
      const numbers: number[] = []
      for (const name of names) {
        const known = ids.get(name)
        const id = known ?? ids.size + 1
        if (known === undefined) {
          ids.set(name, id)
          await writer.run('INSERT INTO signal VALUES (?, ?)', [id, name])
        }
        numbers.push(id)
      }
      return numbers
    },
  }
}

export interface AppendContext {
  database: Database
  catalogue: Catalogue
  session: number
}

/**
 * Stores one batch, its new signals and its number in one transaction: after a crash it is known whether the
 * batch is in, so that it is neither lost nor stored twice.
 */
export async function appendRows(
  { database, catalogue, session }: AppendContext,
  { batch, signals, rows }: { batch: number; signals: string[]; rows: Rows },
): Promise<void> {
  const { writer } = database
  await inTransaction(writer, async () => {
    const ids = await catalogue.add(signals)
    const appender = await writer.createAppender('sample')
    for (let i = 0; i < rows.at.length; i++) {
      appender.appendInteger(ids[rows.signal[i]!]!)
      appender.appendBigInt(BigInt(Math.floor(rows.at[i]!)))
      if (Number.isFinite(rows.value[i]!)) appender.appendDouble(rows.value[i]!)
      else appender.appendNull()
      appender.appendUTinyInt(rows.quality[i]!)
      appender.endRow()
    }
    appender.closeSync()
    await writer.run('UPDATE progress SET batch = ? WHERE session = ?', [BigInt(batch), BigInt(session)])
  })
}

/** Number of the last batch of this session that is stored; begins the session where it is new. */
export async function resumeSession({ writer }: Database, session: number): Promise<number> {
  const rows = await rowsOf<{ batch: number }>(
    writer,
    'SELECT batch::DOUBLE AS batch FROM progress WHERE session = ?',
    [BigInt(session)],
  )
  if (rows[0]) return rows[0].batch
  await inTransaction(writer, async () => {
    await writer.run('DELETE FROM progress')
    await writer.run('INSERT INTO progress VALUES (?, 0)', [BigInt(session)])
  })
  return 0
}
