import { type EfficiencyDesign, lossCurves } from './lossCurve.ts'

export interface InverterDesign {
  /** Over the output; the rated one [W] is the most that it delivers. */
  losses: EfficiencyDesign
  /** It switches off below `cutOff` [V] and comes back above `restart`. */
  cutOff: number
  restart: number
}

export function createInverter({ losses, cutOff, restart }: InverterDesign) {
  const lossOverOutput = lossCurves(losses).overOutput
  let on = true
  return {
    isOn: () => on,
    /** What it takes to deliver an output [W]. */
    input: (output: number) => (on ? output + lossOverOutput(output) : 0),
    step(batteryVoltage: number): void {
      if (batteryVoltage < cutOff) on = false
      if (batteryVoltage > restart) on = true
    },
  }
}
