import type { TraceTrial } from '../traceTrial.ts'
import { runDown } from './runDown.ts'

/** Every trial that records traces, in the order in which a class meets them. */
export const traceTrials: readonly TraceTrial[] = [runDown]
