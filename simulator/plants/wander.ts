/**
 * A slowly wandering amount: first-order noise (Ornstein-Uhlenbeck), mean 0, standard deviation `sigma`, memory
 * `timeConstant` [s]. Stays at exactly 0 without random numbers.
 */
export function createWander(
  random: (() => number) | undefined,
  { sigma, timeConstant }: { sigma: number; timeConstant: number },
) {
  let x = 0
  return {
    value: () => x,
    step(dt: number): void {
      if (!random) return
      // A centred uniform number has variance 1/12; over many steps the sum is normal.
      const kick = (random() - 0.5) * Math.sqrt((12 * 2 * dt) / timeConstant)
      x += (-x * dt) / timeConstant + sigma * kick
    },
  }
}
