import { high } from './high.ts'
import type { AlarmKind } from './kind.ts'
import { low } from './low.ts'
import { overSpeed } from './overSpeed.ts'

/** Every alarm kind by the name that plant files use. */
export const alarmKinds: Readonly<Record<AlarmKind['id'], AlarmKind>> = { high, low, overSpeed }
