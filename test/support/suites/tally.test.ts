import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { printTally, readTally, sumTallies } from './tally.ts'

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
    expect(readTally(file)).toEqual({ passed: 5, failed: 2, skipped: 2 })
  })

  it('counts a file that could not be loaded as a failure', () => {
    const testResults = [{ status: 'failed', assertionResults: [] }]
    const file = report({ success: false, numPassedTests: 5, testResults })
    expect(readTally(file)).toEqual({ passed: 5, failed: 1, skipped: 0 })
  })

  it('counts a failure that belongs to no test, such as an error after the tests', () => {
    expect(readTally(report({ success: false, numPassedTests: 5 })).failed).toBe(1)
  })

  it('takes a missing report for a failure', () => {
    expect(readTally(join(folder, 'none.json'))).toEqual({ passed: 0, failed: 1, skipped: 0 })
  })
})

describe('printTally', () => {
  it('names passed and failed, and skipped only where there are any', () => {
    const one = { passed: 2, failed: 0, skipped: 0 }
    expect(printTally(one)).toBe('2 passed, 0 failed')
    expect(printTally(sumTallies([one, { passed: 1, failed: 1, skipped: 3 }]))).toBe(
      '3 passed, 1 failed, 3 skipped',
    )
  })
})
