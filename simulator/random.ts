/** Uniform numbers in [0, 1), the same for the same seed. */
export type Random = () => number

/**
 * @param seed Number of the run.
 * @param name Whose numbers these are; every name has a stream of its own, so that one more instrument does not
 *   change what the others read.
 * Source: the widely used 32-bit mixing generator "mulberry32" (public domain); good enough for noise, not for secrets.
 */
export function createRandom(seed: number, name: string): Random {
  let state = hash(`${seed}/${name}`)
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

/** Normal number, mean 0 and standard deviation 1 (Box and Muller). */
export function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}

/** FNV-1a, 32 bits. */
function hash(text: string): number {
  let value = 0x811c9dc5
  for (let i = 0; i < text.length; i++) value = Math.imul(value ^ text.charCodeAt(i), 0x01000193)
  return value
}
