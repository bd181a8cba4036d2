import type { Target } from '../target.ts'
import { fileTargets } from './files.ts'
import { formulaTarget } from './formula.ts'
import { httpTarget } from './http.ts'
import { mqttTarget } from './mqtt.ts'
import { payloadTargets } from './payloads.ts'
import { socketTarget } from './socket.ts'

/** Everything that takes what strangers send: decoders, files, formulas, and the three ways in over a network. */
export const TARGETS: readonly Target[] = [
  ...payloadTargets,
  ...fileTargets,
  formulaTarget,
  httpTarget,
  socketTarget,
  mqttTarget,
]
