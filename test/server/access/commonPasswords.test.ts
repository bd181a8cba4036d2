import { describe, expect, it } from 'vitest'
import { commonFault } from '../../../server/access/commonPasswords.ts'

describe('commonFault', () => {
  // from memory: forms that stand in every list of leaked passwords
  it.each([
    ['password1234', 'not among the most used'],
    ['123456789012', 'not among the most used'],
    ['qwertyuiop12', 'not among the most used'],
    ['abcdefghijklm', 'no sequence'],
    ['k7pak7pak7pak7pa', 'does not repeat'],
    ['headraceheadrace', 'with a few more characters'],
  ])('wants another than %j: %s', (password, words) => {
    expect(commonFault(password, 'Ada')).toContain(words)
  })

  it.each(['turn the water on', 'k3vQ9z!mR2xT', 'drei Kühe am Wehr', `${'x'.repeat(20)}q9!Lr2#vTz0&`])(
    'takes %j',
    (password) => {
      expect(commonFault(password, 'Ada')).toBeUndefined()
    },
  )

  it('judges the longest password in less time than a frame of figures', () => {
    commonFault('warm', 'up')
    const started = performance.now()
    commonFault('a1B2'.repeat(64), 'Ada')
    expect(performance.now() - started).toBeLessThan(1000)
  })
})
