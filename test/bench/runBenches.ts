import { writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import type { Bench, Row } from './bench.ts'
import { alert } from './benches/alert.ts'
import { attribution } from './benches/attribution.ts'
import { coverage } from './benches/coverage.ts'
import { figures } from './benches/figures.ts'
import { flood } from './benches/flood.ts'
import { ingest } from './benches/ingest.ts'
import { trials } from './benches/trials.ts'
import { printTable, readSetting } from './printTable.ts'

const benches: readonly Bench[] = [ingest, alert, flood, figures, coverage, attribution, trials]

const USAGE = `npm run bench -- [NAME…] [--json FILE] [--repetitions N] [--share S] [--floor]
  NAME…            ${benches.map((bench) => bench.name).join(', ')}; all of them without a name
  --json FILE      write the figures of every repetition there as well
  --repetitions N  Headrace and floor take turns N times, default 3
  --share S        share of the full load, 0 … 1, default 1; for a quick look only
  --floor          the floor alone, without Headrace`

/** Runs the benches asked for and prints their table; returns the exit code. Nothing here passes or fails on time. */
export async function runBenches(args: readonly string[]): Promise<number> {
  const asked = readArguments(args)
  if (!asked) {
    console.error(USAGE)
    return 1
  }
  const setting = readSetting()
  const rows: Row[] = []
  for (const bench of asked.benches) {
    console.error(`Running ${bench.name} …`)
    rows.push(...(await bench.run(asked.options)))
  }
  console.log(printTable(rows, setting))
  if (asked.json)
    writeFileSync(asked.json, `${JSON.stringify({ ...setting, ...asked.options, rows }, null, 2)}\n`)
  return 0
}

function readArguments(args: readonly string[]) {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        json: { type: 'string' },
        repetitions: { type: 'string', default: '3' },
        share: { type: 'string', default: '1' },
        floor: { type: 'boolean', default: false },
      },
    })
    const repetitions = Number(values.repetitions)
    const share = Number(values.share)
    const isNamed = (name: string) => benches.some((bench) => bench.name === name)
    if (!positionals.every(isNamed) || !(repetitions >= 1) || !(share > 0 && share <= 1)) return undefined
    return {
      benches: benches.filter((bench) => positionals.length === 0 || positionals.includes(bench.name)),
      options: { isFloorOnly: values.floor, repetitions, share },
      json: values.json,
    }
  } catch {
    return undefined
  }
}
