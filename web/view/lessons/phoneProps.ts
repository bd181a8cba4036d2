import type { SeatReply } from '../../../server/wire/lesson.ts'
import type { Session } from '../../connect/session.ts'

export interface PhoneProps {
  session: Session
  reply: SeatReply
  again: () => void
}
