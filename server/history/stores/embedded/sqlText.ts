/** A text as an SQL string constant. DuckDB knows no escapes but the doubled quote. */
export function quote(text: string): string {
  return `'${text.replaceAll("'", "''")}'`
}

/** Values as an SQL list. */
export function sqlList(values: readonly (string | number)[]): string {
  return `[${values.map((value) => (typeof value === 'number' ? value : quote(value))).join(', ')}]`
}

/** A reading of sealed files as an SQL table. */
export function sealedFiles(paths: readonly string[]): string {
  return `read_parquet(${sqlList(paths)})`
}

/** How sealed files are written: small with slow signals, and skipped by signal in runs of 20 480 rows. */
export const SEALED_FORMAT = 'FORMAT parquet, PARQUET_VERSION v2, COMPRESSION zstd, ROW_GROUP_SIZE 20480'
