import type { TraceTrialView } from '../../wire/trace.ts'
import type { Condition, Jump } from './traceTrial.ts'

/** A trace trial as it stands at one plant: plain values, stored with the run that began under them. */
export interface TracePlan {
  view: TraceTrialView
  ready: readonly Condition[]
  begin:
    | { kind: 'conditions'; all: readonly Condition[] }
    | { kind: 'change'; of: readonly Jump[] }
    | { kind: 'atOnce' }
  end: Condition | null
  afterMs: number
  reduction: string
  constants: Readonly<Record<string, number>>
  /** What each recorded quantity's instrument may be off by. */
  limits: Readonly<Record<string, ChannelLimits>>
}

/** Limits of error |x|·reading + fixed, in SI, and the standard deviation as a share of them. */
export interface ChannelLimits {
  reading: number
  fixed: number
  /** 1/√3 for limits of which nothing else is known, 1/1.96 for normal ones. */
  standard: number
  resolution: number
}
