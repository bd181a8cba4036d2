import type { Role } from '../../server/wire/access.ts'

/** What each role may do, least first. The server's table decides (server/access/rights.ts). */
export const roleWords: Record<Role, string> = {
  viewer: 'reads everything',
  student: 'reads, and uses the simulator',
  operator: 'reads, uses the simulator, and acknowledges, resets and shelves alarms',
  maintainer: 'as an operator, and changes settings',
  administrator: 'as a maintainer, and manages people and reads the audit',
}

export const roles = Object.keys(roleWords) as Role[]
