import type { DuckDBConnection } from '@duckdb/node-api'
import { DAY_MS, HOUR_MS } from '../../grid.ts'
import type { Cut, Struck } from './protocol.ts'
import type { SealedFiles } from './sealedFiles.ts'
import type { Segment } from './segments.ts'
import { sealedFiles, sqlList } from './sqlText.ts'

export async function readStruck(connection: DuckDBConnection): Promise<Struck[]> {
  const found = await connection.runAndReadAll(
    'SELECT array_to_string(names, chr(10)), from_ms::DOUBLE, to_ms::DOUBLE, serial FROM struck',
  )
  return found.getRows().map(([names, from, to, serial]) => ({
    signals: String(names).split('\n'),
    from: Number(from),
    to: Number(to),
    serial: Number(serial),
  }))
}

/** Sealed files that are read together, and which of their rows no longer count. */
export interface SealedGroup {
  paths: string[]
  /** To go after another condition; empty where all count. */
  except: string
}

/** @param signals Those that are read; left out: all. */
export function groupSealed(
  segments: readonly Segment[],
  struck: readonly Struck[],
  signals?: readonly string[],
): SealedGroup[] {
  const groups = new Map<string, string[]>()
  for (const segment of segments) {
    const except = struck
      .filter((one) => isOf(one, segment) && (!signals || one.signals.some((name) => signals.includes(name))))
      .map(exceptSql)
      .join(' ')
    groups.set(except, [...(groups.get(except) ?? []), segment.path])
  }
  return [...groups].map(([except, paths]) => ({ paths, except }))
}

/** Whether rows of the file may be among those that no longer count. */
function isOf({ from, to, serial }: Struck, { firstDay, lastDay, serial: made }: Segment): boolean {
  return made <= serial && firstDay * DAY_MS < to && (lastDay + 1) * DAY_MS > from
}

function exceptSql({ signals, from, to }: Struck): string {
  return `AND NOT (at_ms >= ${from} AND at_ms < ${to} AND list_contains(${sqlList(signals)}, signal))`
}

/**
 * Takes out what is sealed of some signals, within the transaction that is open: the hours that the span touches are struck,
 * and what lies in them beside the span goes back into the hot table.
 *
 * @returns What was struck; undefined where nothing of the span is sealed.
 * @throws where only sums are left of some day, which cannot be cut.
 */
export async function strike(
  writer: DuckDBConnection,
  { segments, struck }: Pick<SealedFiles, 'segments' | 'struck'>,
  { cut, idOf, commit }: { cut: Cut; idOf: (name: string) => number; commit: number },
): Promise<Struck | undefined> {
  const { signals, from, to } = cut
  const touched = segments().filter((one) => one.firstDay * DAY_MS < to && (one.lastDay + 1) * DAY_MS > from)
  if (touched.length === 0) return undefined
  const raw = touched.filter((one) => one.tier === 'raw')
  checkKept(cut, touched, raw)
  const [first, last] = [Math.floor(from / HOUR_MS) * HOUR_MS, Math.ceil(to / HOUR_MS) * HOUR_MS]
  const ids = sqlList(signals.map(idOf))
  for (const { paths, except } of groupSealed(raw, struck, signals))
    await writer.run(`INSERT INTO hot SELECT ${ids}[list_position(${sqlList(signals)}, signal)], at_ms, value, quality, ${commit}
      FROM ${sealedFiles(paths)} WHERE list_contains(${sqlList(signals)}, signal) AND at_ms >= ${first} AND at_ms < ${last}
      AND NOT (at_ms >= ${from} AND at_ms < ${to}) ${except}`)
  const serial = segments().reduce((highest, one) => Math.max(highest, one.serial), 0)
  await writer.run(`INSERT INTO struck VALUES (${sqlList(signals)}, ${first}, ${last}, ${serial})`)
  return { signals, from: first, to: last, serial }
}

function checkKept({ from, to }: Cut, touched: readonly Segment[], raw: readonly Segment[]): void {
  for (let day = Math.floor(from / DAY_MS); day * DAY_MS < to; day++) {
    const holds = (one: Segment) => one.firstDay <= day && one.lastDay >= day
    // a month may hold sums of that day, or not; nobody can tell
    if (touched.some((one) => one.tier === 'hour' && one.span === 'day' && holds(one)) && !raw.some(holds))
      throw new Error(
        `single samples of ${new Date(day * DAY_MS).toISOString().slice(0, 10)} are no longer kept`,
      )
  }
}

/** Forgets those of whose files none is left. */
export async function forgetStruck(writer: DuckDBConnection, sealed: SealedFiles): Promise<void> {
  const isLeft = (one: Struck) => sealed.segments().some((segment) => isOf(one, segment))
  const gone = sealed.struck.filter((one) => !isLeft(one))
  for (const { from, to, serial } of gone)
    await writer.run(`DELETE FROM struck WHERE from_ms = ${from} AND to_ms = ${to} AND serial = ${serial}`)
  sealed.struck = sealed.struck.filter(isLeft)
}
