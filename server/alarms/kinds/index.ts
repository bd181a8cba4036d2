import type { AlarmFile } from '../../plant/schema.ts'
import { counter } from './counter.ts'
import { cusum } from './cusum.ts'
import { deviation } from './deviation.ts'
import { ewma } from './ewma.ts'
import { high, highHigh } from './high.ts'
import type { AlarmKind } from './kind.ts'
import { lasting } from './lasting.ts'
import { low, lowLow } from './low.ts'
import { overSpeed } from './overSpeed.ts'
import { rate } from './rate.ts'
import { silent } from './silent.ts'
import { stale } from './stale.ts'
import { state } from './state.ts'

/** Every alarm kind by the name that plant files use. */
export const alarmKinds: Readonly<Record<AlarmFile['kind'], AlarmKind>> = {
  high,
  highHigh,
  low,
  lowLow,
  overSpeed,
  lasting,
  state,
  rate,
  deviation,
  stale,
  silent,
  ewma,
  cusum,
  counter,
}
