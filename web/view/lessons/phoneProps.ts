import type { ClassReply } from '../../../server/wire/lesson.ts'
import type { Session } from '../../connect/session.ts'

export interface PhoneProps {
  session: Session
  reply: ClassReply
  again: () => void
}
