import { counter } from './counter.ts'
import { cusum } from './cusum.ts'
import { deviation } from './deviation.ts'
import { doubtfulSource } from './doubtfulSource.ts'
import { ewma } from './ewma.ts'
import type { AlarmKind } from './kind.ts'
import { lasting } from './lasting.ts'
import { high, highHigh, low, lowLow } from './level.ts'
import { overSpeed } from './overSpeed.ts'
import { rate } from './rate.ts'
import { service } from './service.ts'
import { silent } from './silent.ts'
import { stale } from './stale.ts'
import { state } from './state.ts'
import { suspectInstrument } from './suspectInstrument.ts'

/** Every alarm kind. */
export const alarmKinds: readonly AlarmKind[] = [
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
  doubtfulSource,
  suspectInstrument,
  service,
]
