export interface DumpDesign {
  /** Signal at which it begins, and at which it is full on (bus voltage [V] or frequency [Hz]). */
  from: number
  full: number
  /** Response of the regulator [s]. */
  lag: number
}

/** A heater that takes what is too much, more of it the further `signal` rises through a band. */
export function createDumpLoad(design: DumpDesign, initial = 0) {
  let duty = initial
  return {
    /** Share of full power that is switched on, 0 … 1. */
    duty: () => duty,
    step(dt: number, signal: number): void {
      const wanted = Math.min(1, Math.max(0, (signal - design.from) / (design.full - design.from)))
      duty += ((wanted - duty) * dt) / design.lag
    },
  }
}
