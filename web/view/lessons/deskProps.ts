import type { DeskReply } from '../../../server/wire/lesson.ts'
import type { Answer } from '../../connect/http.ts'
import type { PlantHold } from '../../hold/plantHold.ts'

/** What each part of the desk is given. */
export interface DeskProps {
  desk: DeskReply
  hold: PlantHold
  /** Sends a deed and reads the desk anew; says what the server would not. */
  act: (deed: Promise<Answer<object>>) => Promise<boolean>
}
