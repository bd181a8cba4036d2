import type { Session } from '../../connect/session.ts'
import type { Trends } from '../../hold/trends.ts'

/** What the trends and each of their charts are given. */
export interface TrendProps {
  trends: Trends
  zone: string
  session: Session
}
