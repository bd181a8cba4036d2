/** A body that is warmed by losses and cooled by its surroundings: C · dT/dt = P − (T − T_around)/R, C [J/K], R [K/W]. */
export function createThermalNode(
  { capacity, resistance }: { capacity: number; resistance: number },
  initial: number,
) {
  let temperature = initial
  return {
    /** [K] */
    temperature: () => temperature,
    step(dt: number, heat: number, surroundings: number): void {
      temperature += (dt * (heat - (temperature - surroundings) / resistance)) / capacity
    },
  }
}
