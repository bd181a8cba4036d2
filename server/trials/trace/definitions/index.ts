import type { TraceTrial } from '../traceTrial.ts'
import { batteryBalance } from './batteryBalance.ts'
import { loadRejection } from './loadRejection.ts'
import { loadStep } from './loadStep.ts'
import { runDown } from './runDown.ts'

/** Every trial that records traces, in the order in which a class meets them. */
export const traceTrials: readonly TraceTrial[] = [runDown, loadStep, batteryBalance, loadRejection]
