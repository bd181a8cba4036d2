import { strFromU8, unzipSync } from 'fflate'
import { beforeAll, describe, expect, it } from 'vitest'
import type { PackedRun } from '../../../server/trials/pack/packedRun.ts'
import { packRun } from '../../../server/trials/pack/packRun.ts'
import type { RunFindings } from '../../../server/wire/findings.ts'
import type { TrialPoint } from '../../../server/wire/point.ts'
import { START } from '../../support/manualClock.ts'

const none = { isFitted: false, lacking: 'no points' } as const
const findings: RunFindings = {
  series: [
    { id: 'a', name: 'Jets switched', points: [1], result: none },
    { id: 'b', name: 'Valve throttled', points: [2], result: none },
  ],
  comparison: {
    isPossible: true,
    first: 'Jets switched',
    second: 'Valve throttled',
    rows: [{ x: 0.003, first: 0.26, second: 0.15, gain: 0.11, low: 0.1, high: 0.12 }],
  },
  further: [],
  balance: null,
}
const checks = [
  { id: 'falls', text: 'It falls.', state: 'fails', finding: 'It rises by 3 %.' },
  { id: 'flat', text: 'It is flat.', state: 'byEye', finding: '' },
]
const point = (number: number): TrialPoint => ({
  number,
  at: 0,
  from: 0,
  samples: 40,
  origin: 'automatic',
  by: 'me',
  setting: 'jets 1',
  repeatOf: null,
  figures: [],
  remarks: [],
  verdict: 'kept',
  reason: '',
})
const run = {
  summary: {
    id: 1,
    plant: 'rig',
    trial: 'jetsOrThrottling',
    trialName: 'Jets',
    name: 'x',
    className: '',
    group: '',
    year: '',
    startedAt: START,
    finishedAt: null,
    by: 'me',
    notes: '',
    kept: 3,
    rejected: 0,
  },
  unitResult: null,
  theory: null,
  unitTheory: null,
  plantText: null,
  method: {
    view: {
      id: 'jetsOrThrottling',
      takes: 'points',
      name: 'Jets',
      figures: [],
      hold: [],
      vary: { figure: 'discharge', by: '' },
      method: [],
      checks: [],
      aim: '',
      cautions: [],
      fit: '',
      needs: [],
      abscissa: 'discharge',
      ordinate: 'netHead',
      unitAbscissa: null,
      unitOrdinate: null,
    },
    steady: {},
    plantName: 'Rig',
    version: '0',
    timeZone: 'UTC',
    isSimulated: true,
    takes: 'points',
    series: [],
    further: [],
    stages: [],
    references: {},
    workings: [],
    instruments: [],
  },
  takes: 'points',
  points: [1, 2, 3].map(point),
  decisions: [],
  versions: [],
  result: none,
  findings,
  checks,
  stored: [1, 2, 3].map((number) => ({
    point: point(number),
    pointText: '{}',
    rawText: 'null',
  })),
} as unknown as PackedRun

describe('the record pack of a run with series', () => {
  let files: Record<string, string>
  beforeAll(async () => {
    const zip = unzipSync(await packRun(run))
    files = Object.fromEntries(Object.entries(zip).map(([name, bytes]) => [name, strFromU8(bytes)]))
  })

  it('names the series of every point in the reduced table, and leaves it empty for a point of none', () => {
    const lines = files['reduced.csv']!.trim().split('\r\n')
    expect(lines.map((line) => line.split(',').at(-1))).toEqual([
      'series',
      'Jets switched',
      'Valve throttled',
      '',
    ])
  })

  it('writes the comparison with its interval, and what became of every check, into the method sheet', () => {
    expect(files['method.txt']).toContain('at 0.003: 0.26 less 0.15 = 0.11 (95 %: 0.1 to 0.12)')
    expect(files['method.txt']).toContain('It falls. [does not hold] It rises by 3 %.')
    expect(files['method.txt']).toContain('It is flat. [for the eye]')
  })

  it('has the findings for programs', () => {
    expect(JSON.parse(files['run.json']!).findings).toEqual(findings)
  })
})
