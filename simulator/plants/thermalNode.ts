/** A body that is warmed by losses and cooled by its surroundings. */
export interface ThermalNode {
  /** [K] */
  temperature(): number
  step(dt: number, heat: number, surroundings: number): void
}

/** C · dT/dt = P − (T − T_around)/R, with C [J/K] and R [K/W]. */
export function createThermalNode(
  { capacity, resistance }: { capacity: number; resistance: number },
  initial: number,
): ThermalNode {
  let temperature = initial
  return {
    temperature: () => temperature,
    step(dt, heat, surroundings) {
      temperature += (dt * (heat - (temperature - surroundings) / resistance)) / capacity
    },
  }
}
