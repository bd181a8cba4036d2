/** The same machine at another head, or a geometrically similar one. Efficiency is taken as unchanged. */

/**
 * Speed at another head:  n₂ = n₁·√(H₂/H₁)
 *
 * @param speed ω₁ [rad/s], or any unit of speed.
 * @param head H₁ [m].
 * @param newHead H₂ [m].
 * @returns ω₂ in the unit of `speed`. NaN when the heads differ in sign.
 *
 * Limits: same opening; heads within about a factor of two.
 * Example: 120 at 32 m → 106.0660 at 25 m.
 * Source: Shiv Kumar, Fluid Systems, Ex. 7.6.
 */
export function speedAtHead(speed: number, head: number, newHead: number): number {
  return speed * Math.sqrt(newHead / head)
}

/**
 * Discharge at another head:  Q₂ = Q₁·√(H₂/H₁)
 *
 * @param discharge Q₁ [m³/s].
 * @param head H₁ [m].
 * @param newHead H₂ [m].
 * @returns Q₂ [m³/s].
 *
 * Limits: as `speedAtHead`.
 * Example: 9 at 25 m → 8.049845 at 20 m.
 * Source: Shiv Kumar, Fluid Systems, Ex. 7.9.
 */
export function dischargeAtHead(discharge: number, head: number, newHead: number): number {
  return discharge * Math.sqrt(newHead / head)
}

/**
 * Power at another head:  P₂ = P₁·(H₂/H₁)^1.5
 *
 * @param power P₁ [W].
 * @param head H₁ [m].
 * @param newHead H₂ [m].
 * @returns P₂ [W].
 *
 * Limits: as `speedAtHead`.
 * Example: 8500 kW at 32 m → 5869.539 kW at 25 m.
 * Source: Shiv Kumar, Fluid Systems, Ex. 7.6.
 */
export function powerAtHead(power: number, head: number, newHead: number): number {
  return power * (newHead / head) ** 1.5
}

/**
 * Speed of a similar machine:  n₂ = n₁·√(H₂/H₁)/s, s = D₂/D₁
 *
 * @param speed ω₁ [rad/s], or any unit of speed.
 * @param headRatio H₂/H₁ [–].
 * @param scale s = D₂/D₁ [–].
 * @returns ω₂ in the unit of `speed`.
 *
 * Limits: geometric similarity, equal efficiency (a larger machine is a little better).
 * Example: 410, 5, 5 → 183.3576.
 * Source: Shiv Kumar, Fluid Systems, Ex. 7.12.
 */
export function similarSpeed(speed: number, headRatio: number, scale: number): number {
  return (speed * Math.sqrt(headRatio)) / scale
}

/**
 * Discharge of a similar machine:  Q₂ = Q₁·s²·√(H₂/H₁)
 *
 * @param discharge Q₁ [m³/s].
 * @param headRatio H₂/H₁ [–].
 * @param scale s = D₂/D₁ [–].
 * @returns Q₂ [m³/s].
 *
 * Limits: as `similarSpeed`.
 * Example: 0.3203728, 5, 5 → 17.90938.
 * Source: similarity laws; Shiv Kumar Ex. 7.12 recomputed (its printed answer is dimensionally wrong).
 */
export function similarDischarge(discharge: number, headRatio: number, scale: number): number {
  return discharge * scale * scale * Math.sqrt(headRatio)
}

/**
 * Power of a similar machine:  P₂ = P₁·s²·(H₂/H₁)^1.5
 *
 * @param power P₁ [W].
 * @param headRatio H₂/H₁ [–].
 * @param scale s = D₂/D₁ [–].
 * @returns P₂ [W].
 *
 * Limits: as `similarSpeed`.
 * Example: 22 kW, 5, 5 → 6149.187 kW.
 * Source: Shiv Kumar, Fluid Systems, Ex. 7.12, recomputed.
 */
export function similarPower(power: number, headRatio: number, scale: number): number {
  return power * scale * scale * headRatio ** 1.5
}
