import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { root } from '../root.ts'
import { type FileTime, printTally, readTally, sumTallies } from './tally.ts'
import { printTimes } from './times.ts'

const folder = mkdtempSync(join(tmpdir(), 'headrace-tally-'))
afterAll(() => rmSync(folder, { recursive: true }))

/** A report with the fields that vitest's JSON reporter writes. */
function report(fields: object): string {
  const file = join(folder, 'report.json')
  const whole = { success: true, numPassedTests: 0, numFailedTests: 0, numPendingTests: 0, numTodoTests: 0 }
  writeFileSync(file, JSON.stringify({ ...whole, testResults: [], ...fields }))
  return file
}

describe('readTally', () => {
  it('counts tests that passed, failed and were skipped', () => {
    const file = report({
      success: false,
      numPassedTests: 5,
      numFailedTests: 2,
      numPendingTests: 1,
      numTodoTests: 1,
    })
    expect(readTally(file)).toEqual({ passed: 5, failed: 2, skipped: 2, files: [] })
  })

  it('counts a file that could not be loaded as a failure', () => {
    const testResults = [{ name: 'x', status: 'failed', assertionResults: [] }]
    const file = report({ success: false, numPassedTests: 5, testResults })
    expect(readTally(file)).toMatchObject({ passed: 5, failed: 1, skipped: 0 })
  })

  it('counts a failure that belongs to no test, such as an error after the tests', () => {
    expect(readTally(report({ success: false, numPassedTests: 5 })).failed).toBe(1)
  })

  it('tells how long each file took', () => {
    const name = join(root, 'test/a.test.ts')
    const testResults = [{ name, status: 'passed', assertionResults: [{}], startTime: 1000, endTime: 3500 }]
    expect(readTally(report({ testResults })).files).toEqual([{ file: 'test/a.test.ts', tookMs: 2500 }])
  })

  it('takes a missing report for a failure', () => {
    expect(readTally(join(folder, 'none.json'))).toEqual({ passed: 0, failed: 1, skipped: 0, files: [] })
  })
})

describe('printTally', () => {
  it('names passed and failed, and skipped only where there are any', () => {
    const one = { passed: 2, failed: 0, skipped: 0, files: [] }
    expect(printTally(one)).toBe('2 passed, 0 failed')
    expect(printTally(sumTallies([one, { passed: 1, failed: 1, skipped: 3, files: [] }]))).toBe(
      '3 passed, 1 failed, 3 skipped',
    )
  })
})

describe('printTimes', () => {
  it('has a line for each suite, and the files that took longest of all', () => {
    const tallyOf = (passed: number, files: FileTime[]) => ({ passed, failed: 0, skipped: 0, files })
    const files = [2, 9, 4, 7, 3, 8, 5, 6].map((s) => ({ file: `test/${s}.test.ts`, tookMs: 1000 * s }))
    const text = printTimes([
      { suite: 'types', tookMs: 8_300, tally: tallyOf(1, []) },
      { suite: 'unit', tookMs: 61_000, tally: tallyOf(30, files) },
    ])
    expect(text.split('\n')).toEqual([
      'Time taken:',
      '  types         8 s  1 passed, 0 failed',
      '  unit         61 s  30 passed, 0 failed',
      '  whole        69 s',
      'Slowest files:',
      ...[9, 8, 7, 6, 5].map((s) => `                ${s} s  test/${s}.test.ts`),
    ])
  })
})
