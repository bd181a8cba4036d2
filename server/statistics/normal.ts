/** The normal distribution: quantile, distribution function and density. */

/** Two-sided 95 % point: half of a normal interval is this times its standard deviation. Source: `normalQuantile(0.975)`. */
export const NORMAL_95 = 1.959964

const CENTRE_TOP = [
  2509.0809287301227, 33430.57558358813, 67265.7709270087, 45921.95393154987, 13731.69376550946,
  1971.5909503065513, 133.14166789178438, 3.3871328727963665,
]
const CENTRE_BOTTOM = [
  5226.495278852854, 28729.085735721943, 39307.89580009271, 21213.794301586597, 5394.196021424751,
  687.1870074920579, 42.31333070160091, 1,
]
const MIDDLE_TOP = [
  0.0007745450142783414, 0.022723844989269184, 0.2417807251774506, 1.2704582524523684, 3.6478483247632045,
  5.769497221460691, 4.630337846156546, 1.4234371107496835,
]
const MIDDLE_BOTTOM = [
  1.0507500716444169e-9, 0.0005475938084995345, 0.015198666563616457, 0.14810397642748008, 0.6897673349851,
  1.6763848301838038, 2.053191626637759, 1,
]
const FAR_TOP = [
  2.0103343992922881e-7, 2.7115555687434876e-5, 0.0012426609473880784, 0.026532189526576124,
  0.29656057182850487, 1.7848265399172913, 5.463784911164114, 6.657904643501103,
]
const FAR_BOTTOM = [
  2.0442631033899397e-15, 1.421511758316446e-7, 1.8463183175100548e-5, 0.0007868691311456133,
  0.014875361290850615, 0.1369298809227358, 0.599832206555888, 1,
]

/**
 * Quantile of the standard normal distribution, Φ⁻¹(p).
 *
 * @param probability p, 0–1.
 * @returns z, to about 1e-15 relative; ∓Infinity at 0 and 1, NaN outside.
 *
 * Limits: none within 0–1.
 * Example: 0.975 → 1.959963985.
 * Source: Wichura 1988, algorithm AS 241 (PPND16), Appl. Stat. 37:477.
 */
export function normalQuantile(probability: number): number {
  if (!(probability >= 0 && probability <= 1)) return Number.NaN
  if (probability === 0 || probability === 1) return probability === 0 ? -Infinity : Infinity
  const q = probability - 0.5
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q
    return (q * horner(CENTRE_TOP, r)) / horner(CENTRE_BOTTOM, r)
  }
  const r = Math.sqrt(-Math.log(q < 0 ? probability : 1 - probability))
  const z =
    r <= 5
      ? horner(MIDDLE_TOP, r - 1.6) / horner(MIDDLE_BOTTOM, r - 1.6)
      : horner(FAR_TOP, r - 5) / horner(FAR_BOTTOM, r - 5)
  return q < 0 ? -z : z
}

/** Polynomial with the highest power's coefficient first; a plain loop, for every figure shown needs some twenty. */
function horner(coefficients: readonly number[], x: number): number {
  let sum = 0
  for (let i = 0; i < coefficients.length; i++) sum = sum * x + coefficients[i]!
  return sum
}

const TAIL_TOP = [
  0.0352624965998911, 0.700383064443688, 6.37396220353165, 33.912866078383, 112.079291497871,
  221.213596169931, 220.206867912376,
]
const TAIL_BOTTOM = [
  0.0883883476483184, 1.75566716318264, 16.064177579207, 86.7807322029461, 296.564248779674, 637.333633378831,
  793.826512519948, 440.413735824752,
]

/**
 * Density of the standard normal distribution:  φ(z) = e^(−z²/2)/√(2π)
 *
 * @param z Any number.
 * @returns φ, 0 from |z| = 39 on.
 *
 * Limits: none.
 * Example: 0 → 0.39894228.
 * Source: definition.
 */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI)
}

/**
 * Distribution function of the standard normal distribution, Φ(z).
 *
 * @param z Any number.
 * @returns Φ [–], to about 1e-15 absolute.
 *
 * Limits: none.
 * Example: 1.959963985 → 0.975.
 * Source: Hart et al. 1968, Computer Approximations, no. 5666, as given by West 2005; coefficients from memory,
 * checked against a statistics library.
 */
export function normalCumulative(z: number): number {
  const tail = upperTail(Math.abs(z))
  return z > 0 ? 1 - tail : tail
}

function upperTail(z: number): number {
  if (z > 37) return 0
  const bell = Math.exp(-0.5 * z * z)
  if (z < 7.07106781186547) return (bell * horner(TAIL_TOP, z)) / horner(TAIL_BOTTOM, z)
  const fraction = z + 1 / (z + 2 / (z + 3 / (z + 4 / (z + 0.65))))
  return bell / (fraction * Math.sqrt(2 * Math.PI))
}
