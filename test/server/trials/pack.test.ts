import { execFileSync } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { DuckDBInstance } from '@duckdb/node-api'
import { strFromU8, unzipSync } from 'fflate'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { trials } from '../../../server/trials/definitions/index.ts'
import { packRun } from '../../../server/trials/pack/packRun.ts'
import { drawPng } from '../../../server/trials/plot/drawPng.ts'
import { methodOf } from '../../../server/trials/runMethod.ts'
import type { Trials } from '../../../server/trials/trials.ts'
import type { PointRunReply } from '../../../server/wire/trial.ts'
import { START } from '../../support/manualClock.ts'
import { playPlant } from '../../support/playedPlant.ts'
import { packTrial, recordTrial } from '../../support/recordedTrial.ts'
import { efficiencyInstruments, efficiencyMoves } from '../../support/rigOperator.ts'
import { scratchFolder } from '../../support/scratch.ts'
import { taking } from '../../support/trialBench.ts'

const NAME = 'Tuesday, "second" <try> & more'
const NOTES = 'Air in the pipe,\n"then" fine; η = 0,7'

async function zipOf(trials: Trials, run: number): Promise<Uint8Array> {
  const pack = await trials.pack('quennerby', run)
  if (!pack.ok) throw new Error(pack.error)
  return pack.value
}

describe('the record pack of an efficiency run', () => {
  const scratch = scratchFolder()
  let reply: PointRunReply
  let zips: [Uint8Array, Uint8Array]
  let files: Record<string, Uint8Array>
  const text = (name: string) => strFromU8(files[name]!)

  beforeAll(async () => {
    const recording = recordTrial('quennerby', {
      seed: 2,
      moves: efficiencyMoves,
      instruments: efficiencyInstruments,
    })
    const done = await packTrial(
      recording,
      { seed: 2, trial: 'efficiencyDischarge' },
      async (trials, run) => {
        trials.edit('quennerby', run, { by: 'Ada', name: NAME, className: 'Year 2', notes: NOTES })
        trials.decide('quennerby', run, {
          takes: 'points',
          number: 6,
          by: 'me',
          verdict: 'rejected',
          reason: '=1+1, "leant" on the pipe',
        })
        trials.finish('quennerby', run)
        const found = await trials.run('quennerby', run)
        if (!found.ok) throw new Error(found.error)
        return {
          zips: [await zipOf(trials, run), await zipOf(trials, run)] as const,
          reply: taking('points', found.value),
        }
      },
    )
    reply = done.after.reply
    zips = [...done.after.zips]
    files = unzipSync(zips[0])
    mkdirSync(scratch.path, { recursive: true })
    for (const [name, bytes] of Object.entries(files)) writeFileSync(join(scratch.path, name), bytes)
  }, 120_000)
  afterAll(async () => {
    scratch.remove()
  })

  it('is the same to the byte when it is made twice', () => {
    expect(zips[1]).toEqual(zips[0])
  })

  it('passes "sha256sum -c", which names every other file', () => {
    const told = execFileSync('sha256sum', ['-c', 'SHA256SUMS'], { cwd: scratch.path, encoding: 'utf8' })
    const named = told.trim().split('\n')
    expect(named.every((line) => line.endsWith(': OK'))).toBe(true)
    expect(named).toHaveLength(Object.keys(files).length - 1)
  })

  it.each([
    ['reduced.csv', 8],
    // 8 points of 20 s at two samples a second
    ['raw.csv', 320],
    // four instruments with limits, three with steps, four constants, scatter, and five rows that say what they come to
    ['budget.csv', 17],
    ['instruments.csv', 8],
  ])('holds %s, which an independent reader of RFC 4180 finds to have %d rows', async (name, rows) => {
    const instance = await DuckDBInstance.create(':memory:')
    const database = await instance.connect()
    const file = join(scratch.path, name)
    const read = await database.runAndReadAll(
      `SELECT * FROM read_csv('${file}', header = true, delim = ',', quote = '"', escape = '"', all_varchar = true, strict_mode = true, null_padding = false)`,
    )
    expect(read.getRowObjects()).toHaveLength(rows)
    if (name === 'reduced.csv')
      expect(read.getRowObjects()[5]).toMatchObject({
        verdict: 'rejected',
        reason: `'=1+1, "leant" on the pipe`,
      })
    database.closeSync()
    instance.closeSync()
  })

  it('has the plant file as it was, byte for byte', () => {
    expect(text('plant-file.yaml')).toMatch(/^# Quennerby four-jet teaching rig/)
    expect(text('method.txt')).toMatch(/plant-file.yaml: the plant file \(quennerby.yaml\) as it was/)
  })

  it('works the point nearest the best one: rows combine to the uncertainty that the point stores', () => {
    const best = reply.result.isFitted ? reply.result.best! : undefined
    const kept = reply.points.filter((point) => point.verdict === 'kept')
    const meanOf = (n: number, id: string) => reply.points[n - 1]!.figures.find((figure) => figure.id === id)!
    const apart = (n: number) => Math.abs(meanOf(n, 'discharge').mean - best!.x)
    const nearest = kept.map((point) => point.number).sort((a, b) => apart(a) - apart(b))[0]!
    const rows = text('budget.csv')
      .trim()
      .split('\r\n')
      .map((line) => [...line.matchAll(/(?<=^|,)(?:"(?:[^"]|"")*"|[^,"]*)(?=,|$)/g)].map(([cell]) => cell))
    expect(rows.slice(1).every((row) => row[0] === String(nearest))).toBe(true)
    const contributions = rows.filter((row) => row[4] === 'A' || row[4] === 'B').map((row) => Number(row[12]))
    const stored = meanOf(nearest, 'turbineEfficiency')
    expect(Math.hypot(...contributions)).toBeCloseTo(Math.hypot(stored.typeA, stored.typeB), 12)
    // Welch and Satterthwaite over all rows, or over type A and type B: the same, since type B has no doubt
    // k looks at the limits of the latest reading there, at those of the mean here: 1e-7 of it
    expect(Number(rows.at(-1)![5]) / stored.u95).toBeCloseTo(1, 6)
  })

  it('works every step in full, inputs before their use', () => {
    const worked = text('worked-point.txt')
    const order = ['Water density', 'Net head', 'Hydraulic power', 'Turbine efficiency']
    const places = order.map((name) => worked.indexOf(`\n  ${name}`))
    expect(places).toEqual([...places].sort((a, b) => a - b))
    expect(places[0]).toBeGreaterThan(0)
    const number = (pattern: RegExp) => Number(pattern.exec(worked)![1])
    // by hand from the numbers that it prints: v = 4Q/(π·0.0525²), η = P_s/P_h
    const discharge = number(/= ([\d.]+) m³\/s \(SI\)/)
    expect(number(/meanVelocity\([^)]*\) = ([\d.]+) /)).toBeCloseTo(
      (4 * discharge) / (Math.PI * 0.0525 ** 2),
      3,
    )
    const [, shaft, hydraulic] = /= ([\d.]+) \/ \(([\d.]+) · 1\)/.exec(worked)!
    expect(number(/= (0\.\d+) = [\d.]+ %/)).toBeCloseTo(Number(shaft) / Number(hydraulic), 4)
  })

  it('draws plots as measured, in unit quantities and of the residuals, as SVG and PNG', () => {
    for (const name of ['plot', 'plot-unit', 'residuals']) {
      const svg = text(`${name}.svg`)
      expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/)
      expect(svg).toContain('Tuesday, &quot;second&quot; &lt;try&gt; &amp; more')
      expect(svg).not.toMatch(/NaN|Infinity|undefined|<script|href/)
      // first eight bytes of every PNG, ISO/IEC 15948 5.2
      expect(Array.from(files[`${name}.png`]!.slice(0, 8))).toEqual([137, 80, 78, 71, 13, 10, 26, 10])
    }
    expect(text('plot.svg')).toMatch(/Discharge \[L\/s\]/)
    expect(text('plot.svg')).toMatch(/Turbine efficiency \[%\]/)
    expect(text('plot.svg')).toMatch(
      /best: [\d.]+ (± [\d.]+|\([\d.]+ to [\d.]+\)) % (at|between) [\d.]+ [^<]*L\/s/,
    )
    expect(text('plot.svg')).toMatch(/>plant file</)
  })

  it('has a record that needs nothing from elsewhere and no script, with lines for names and signature', () => {
    const record = text('record.html')
    expect(record).not.toMatch(/<script|<link|<img|<iframe|@import|url\(|src=|href=/)
    expect(record).toContain('Tuesday, &quot;second&quot; &lt;try&gt; &amp; more')
    for (const part of ['Points', 'Plots', 'Result', 'Worked point', 'Names', 'Date, signature'])
      expect(record).toContain(part)
    expect(record).toContain('Simulated plant: all of this was computed, nothing measured at a machine')
  })
})

describe('the pack of a run at a plant that came from no file and states no limits', () => {
  it('is made all the same, and says what is not in it', async () => {
    const { plan } = playPlant('quennerby', { seed: 5 }).live
    const trial = trials.find((one) => one.id === 'efficiencyDischarge')!
    const { plantFile: _, ...method } = taking('points', methodOf(trial, plan))
    for (const instrument of method.instruments) delete instrument.limits
    const point = {
      number: 1,
      at: 1_790_000_020_000,
      from: START,
      samples: 40,
      origin: 'automatic' as const,
      by: 'me',
      setting: 'jets 1',
      repeatOf: null,
      remarks: [],
      verdict: 'kept' as const,
      reason: '',
      figures: ['discharge', 'turbineEfficiency'].map((id) => ({
        id,
        mean: 0.002,
        deviation: 0,
        effectiveCount: 40,
        typeA: 0,
        typeB: 1e-5,
        u95: 2e-5,
        contributions: { discharge: 1e-5 },
      })),
    }
    const zip = await packRun({
      takes: 'points',
      points: [point],
      decisions: [],
      versions: [],
      checks: [],
      summary: {
        id: 7,
        plant: 'quennerby',
        trial: 'efficiencyDischarge',
        trialName: 'x',
        name: 'Bare',
        className: '',
        group: '',
        year: '',
        startedAt: point.from,
        finishedAt: point.at,
        by: 'me',
        notes: '',
        kept: 1,
        takes: 'points',
        rejected: 0,
      },
      method,
      result: { isFitted: false, lacking: '1 of at least 4 points that the curve needs.' },
      unitResult: null,
      theory: null,
      unitTheory: null,
      plantText: null,
      findings: { series: [], comparison: null, further: [], balance: null },
      stored: [{ point, pointText: JSON.stringify(point), rawText: 'null' }],
    })
    const files = unzipSync(zip)
    expect(Object.keys(files)).not.toContain('plant-file.yaml')
    expect(strFromU8(files['method.txt']!)).toMatch(/The plant file is not here/)
    expect(strFromU8(files['record.html']!)).toMatch(/No curve: 1 of at least 4 points/)
    expect(strFromU8(files['budget.csv']!)).toMatch(/as stated/)
  })
})

describe('a picture as PNG', () => {
  const svg = (text: string) =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="40" font-family="'Open Sans'"><text x="5" y="25" font-size="16">${text}</text></svg>`

  it('has letters, although the program that draws it sees no font of the machine', async () => {
    const [blank, words, again] = [
      await drawPng(svg('')),
      await drawPng(svg('η [%]')),
      await drawPng(svg('η [%]')),
    ]
    expect(words.length).toBeGreaterThan(blank.length + 100)
    expect(again).toEqual(words)
    expect(await drawPng(svg('Ω'))).not.toEqual(await drawPng(svg('η')))
  })
})
