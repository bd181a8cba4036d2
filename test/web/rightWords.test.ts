import { describe, expect, it } from 'vitest'
import { ACTIONS, RIGHTS, ROLES } from '../../server/wire/rights.ts'
import { actionWords, roleWords } from '../../web/format/rightWords.ts'

describe('the words for what a role may do', () => {
  it('name what it adds to the role before', () => {
    expect(roleWords('viewer')).toBe('may read everything and change their password')
    expect(roleWords('student')).toBe('as a viewer, and may use the simulator and run a trial')
    expect(roleWords('maintainer')).toBe(
      'as an operator, and may take alarms out of service and change settings',
    )
  })

  it.each(ROLES)('of %s and the roles before it name each right that the role has, and no other', (role) => {
    const words = ROLES.slice(0, ROLES.indexOf(role) + 1).map(roleWords)
    for (const action of ACTIONS)
      expect(
        words.some((text) => text.includes(actionWords[action])),
        action,
      ).toBe(RIGHTS[action].includes(role))
  })

  it('can say "as the role before", because no role lacks a right of the one before it', () => {
    for (const action of ACTIONS) {
      const first = ROLES.findIndex((role) => RIGHTS[action].includes(role))
      if (first >= 0)
        expect(ROLES.filter((role) => RIGHTS[action].includes(role))).toEqual(ROLES.slice(first))
    }
  })
})
