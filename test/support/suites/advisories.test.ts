import { describe, expect, it } from 'vitest'
import { judgeAudit } from './advisories.ts'

/** In the form of npm's audit report, version 2 (from memory). */
const report = (...severities: string[]) =>
  JSON.stringify({
    auditReportVersion: 2,
    vulnerabilities: Object.fromEntries(
      severities.map((severity, i) => [`p${i}`, { name: `p${i}`, severity, range: '<1.2.3' }]),
    ),
  })

describe('known advisories', () => {
  it('fail the tests where one is high or critical, and are named', () => {
    for (const severity of ['high', 'critical']) {
      const { sentences, tally } = judgeAudit(report('low', severity))
      expect(tally).toMatchObject({ passed: 0, failed: 1, skipped: 0 })
      expect(sentences).toEqual([
        'p0 <1.2.3: low',
        `p1 <1.2.3: ${severity}`,
        '2 packages with known advisories, 1 of them high or critical.',
      ])
    }
  })

  it('pass where there are none, or lesser ones only', () => {
    for (const text of [report(), report('low', 'moderate')])
      expect(judgeAudit(text).tally).toMatchObject({ passed: 1, failed: 0, skipped: 0 })
  })

  it('are skipped, and said to be, where the registry offers none or there is no network', () => {
    // what npm 11.19 wrote to a registry that knows no advisories, and what it writes without an answer
    const refused = JSON.stringify({
      message: '405 Method Not Allowed',
      statusCode: 405,
      error: { summary: '' },
    })
    const answers: [string, string][] = [
      [refused, '405 Method Not Allowed'],
      ['', 'npm gave no answer'],
    ]
    for (const [text, reason] of answers) {
      const { sentences, tally } = judgeAudit(text)
      expect(tally).toMatchObject({ passed: 0, failed: 0, skipped: 1 })
      expect(sentences).toEqual([`No advisories could be had (${reason}): nothing was checked.`])
    }
  })
})
