export interface InverterDesign {
  /** Input without any load [W]. */
  noLoadPower: number
  /** Losses that grow with output, and with output squared [1/W]. */
  linearLoss: number
  squareLoss: number
  /** Most it can deliver [W]. */
  ratedPower: number
  /** It switches off below `cutOff` [V] and comes back above `restart`. */
  cutOff: number
  restart: number
}

export function createInverter(design: InverterDesign) {
  let on = true
  return {
    isOn: () => on,
    step(batteryVoltage: number): void {
      if (batteryVoltage < design.cutOff) on = false
      if (batteryVoltage > design.restart) on = true
    },
  }
}

/** P_in = P_out + P₀ + a·P_out + b·P_out² [W]. */
export function inverterInput(design: InverterDesign, output: number): number {
  return output + design.noLoadPower + design.linearLoss * output + design.squareLoss * output ** 2
}
