/** The three ratios that follow from powers [W]; NaN where there is nothing to divide by. */
export function efficiencies(power: {
  hydraulic: number
  /** At the runner's shaft and, behind a belt, at the generator's. */
  turbine: number
  shaft: number
  active: number
}): Record<string, number> {
  return {
    hydraulicPower: power.hydraulic,
    turbinePower: power.turbine,
    shaftPower: power.shaft,
    turbineEfficiency: ratio(power.turbine, power.hydraulic),
    generatorEfficiency: ratio(power.active, power.shaft),
    waterToWireEfficiency: ratio(power.active, power.hydraulic),
  }
}

function ratio(part: number, whole: number): number {
  return whole > 0 ? part / whole : Number.NaN
}
