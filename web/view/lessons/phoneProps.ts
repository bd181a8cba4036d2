import type { SeatReply } from '../../../server/wire/lesson.ts'
import type { Connection } from '../../connect/connection.ts'

export interface PhoneProps {
  connection: Connection
  reply: SeatReply
  again: () => void
}
