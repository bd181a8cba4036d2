import { readFileSync } from 'node:fs'
import { relative } from 'node:path'
import { root } from '../root.ts'

/** What came of a suite, in tests. */
export interface Tally {
  passed: number
  failed: number
  skipped: number
  /** How long each test file took, where the suite has files. */
  files: readonly FileTime[]
}

export interface FileTime {
  /** From the repository root. */
  file: string
  tookMs: number
}

/** The part of vitest's JSON report that is read here. */
interface Report {
  success: boolean
  numPassedTests: number
  numFailedTests: number
  numPendingTests: number
  numTodoTests: number
  testResults: {
    name: string
    status: string
    startTime: number
    endTime: number
    assertionResults: unknown[]
  }[]
}

export const FAILED_WHOLE: Tally = { passed: 0, failed: 1, skipped: 0, files: [] }
/** It could not be run, and its own words said why. */
export const SKIPPED_WHOLE: Tally = { passed: 0, failed: 0, skipped: 1, files: [] }

/** Reads vitest's report. No report, or one that says "failed" without naming a test, is one failure. */
export function readTally(file: string): Tally {
  let report: Report
  try {
    report = JSON.parse(readFileSync(file, 'utf8'))
  } catch {
    return FAILED_WHOLE
  }
  // a file that could not even be loaded has no tests to count
  const unloaded = report.testResults.filter(
    (one) => one.status === 'failed' && one.assertionResults.length === 0,
  )
  const failed = report.numFailedTests + unloaded.length
  return {
    passed: report.numPassedTests,
    failed: failed === 0 && !report.success ? 1 : failed,
    skipped: report.numPendingTests + report.numTodoTests,
    files: report.testResults.map(({ name, startTime, endTime }) => ({
      file: relative(root, name),
      tookMs: endTime - startTime,
    })),
  }
}

export function sumTallies(tallies: readonly Tally[]): Tally {
  return tallies.reduce(
    (sum, one) => ({
      passed: sum.passed + one.passed,
      failed: sum.failed + one.failed,
      skipped: sum.skipped + one.skipped,
      files: [...sum.files, ...one.files],
    }),
    { passed: 0, failed: 0, skipped: 0, files: [] },
  )
}

/** The closing line: "12 passed, 0 failed", and the skipped where there are any. */
export function printTally({ passed, failed, skipped }: Tally): string {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`
}
