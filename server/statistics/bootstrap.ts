/** Seeded random numbers: the same seed gives the same draws on every machine. Not for secrets. */

/** Uniform on [0, 1). */
export type Random = () => number

/**
 * Uniform generator with 128 bits of state (sfc32), started from one 32-bit seed.
 *
 * @param seed Any integer; only its low 32 bits count.
 * @returns A function giving uniform draws on [0, 1), 32 bits each.
 *
 * Limits: period beyond 2^64 on average; not for secrets.
 * Example: createRandom(1)() is the same on every machine.
 * Source: Doty-Humphrey, PractRand (small fast counter generator, from memory).
 */
export function createRandom(seed: number): Random {
  let [a, b, c, counter] = [0x9e3779b9, 0x243f6a88, 0xb7e15162, seed | 0]
  const next = () => {
    const sum = (((a + b) | 0) + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = (((c << 21) | (c >>> 11)) + sum) | 0
    return (sum >>> 0) / 4294967296
  }
  // The first draws of near seeds resemble each other; fifteen turns mix them.
  for (let i = 0; i < 15; i++) next()
  return next
}
