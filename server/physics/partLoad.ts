/**
 * Typical turbine efficiency over discharge, for machines without a measured curve. A guide of ±3 points near
 * the best point, worse below 30 %; a commissioning curve always comes first.
 *
 * The fitted expressions fall below zero at low flow (Kaplan at 10 %: −0.42). There the machine gives no power,
 * so every function here returns 0, not a negative efficiency. That floor is part of the model, stated, and is
 * never applied to measured efficiencies.
 */

/** Losses of manufacture and design, R_m [–]: 4.5 usual, 2.8 old machines, 6.1 recent ones (from memory). */
export const USUAL_DESIGN_COEFFICIENT = 4.5

/**
 * Francis turbine:  below Qp  e = (1 − 1.25((Qp − Q)/Qp)^(3.94 − 0.0195n_q))·e_p;  above  e = e_p − ((Q − Qp)/(Qd − Qp))²(e_p − e_r)
 *
 * @param discharge Q [m³/s].
 * @param designDischarge Qd [m³/s].
 * @param ratedHead h [m].
 * @param designCoefficient R_m [–], usually 4.5.
 * @returns Efficiency [–], 0 where the expression is negative; NaN for Q < 0.
 *
 * Limits: 0 ≤ Q ≤ Qd. The WHOLE ratio above the peak is squared: public copies often square only its top.
 * Example: 2, 2, 50, 4.5 → 0.872368.
 * Source: Natural Resources Canada (CANMET), Clean Energy Project Analysis: Small Hydro, 2004, appendix (from transcriptions).
 */
export function francisEfficiency(
  discharge: number,
  designDischarge: number,
  ratedHead: number,
  designCoefficient: number,
): number {
  const nq = 600 / Math.sqrt(ratedHead)
  const speedTerm = ((nq - 56) / 256) ** 2
  const sizeTerm = (0.081 + speedTerm) * runnerSizeFactor(designDischarge)
  const peak = 0.919 - speedTerm + sizeTerm - 0.0305 + 0.005 * designCoefficient
  const peakDischarge = 0.65 * designDischarge * nq ** 0.05
  if (discharge < peakDischarge) {
    const shortfall = (peakDischarge - discharge) / peakDischarge
    return producible(discharge, (1 - 1.25 * shortfall ** (3.94 - 0.0195 * nq)) * peak)
  }
  const atDesign = (1 - 0.0072 * nq ** 0.4) * peak
  const excess = (discharge - peakDischarge) / (designDischarge - peakDischarge)
  return producible(discharge, peak - excess ** 2 * (peak - atDesign))
}

/**
 * Kaplan turbine, both vanes and blades adjustable:  e = (1 − 3.5((Qp − Q)/Qp)⁶)·e_p, Qp = 0.75Qd
 *
 * @param discharge Q [m³/s].
 * @param designDischarge Qd [m³/s].
 * @param ratedHead h [m].
 * @param designCoefficient R_m [–], usually 4.5.
 * @returns Efficiency [–], 0 where the expression is negative; NaN for Q < 0.
 *
 * Limits: 0 ≤ Q ≤ Qd.
 * Example: 10, 10, 5, 4.5 → 0.864087.
 * Source: Natural Resources Canada (CANMET), Clean Energy Project Analysis: Small Hydro, 2004, appendix (from transcriptions).
 */
export function kaplanEfficiency(
  discharge: number,
  designDischarge: number,
  ratedHead: number,
  designCoefficient: number,
): number {
  const peakDischarge = 0.75 * designDischarge
  const shortfall = (peakDischarge - discharge) / peakDischarge
  const peak = axialPeak(designDischarge, ratedHead, designCoefficient)
  return producible(discharge, (1 - 3.5 * shortfall ** 6) * peak)
}

/**
 * Propeller turbine, blades fixed:  e = (1 − 1.25((Qd − Q)/Qd)^1.13)·e_p
 *
 * @param discharge Q [m³/s].
 * @param designDischarge Qd [m³/s].
 * @param ratedHead h [m].
 * @param designCoefficient R_m [–], usually 4.5.
 * @returns Efficiency [–], 0 where the expression is negative; NaN for Q < 0 and for Q > Qd (no real power).
 *
 * Limits: 0 ≤ Q ≤ Qd.
 * Example: 10, 10, 5, 4.5 → 0.868256.
 * Source: Natural Resources Canada (CANMET), Clean Energy Project Analysis: Small Hydro, 2004, appendix (from transcriptions).
 */
export function propellerEfficiency(
  discharge: number,
  designDischarge: number,
  ratedHead: number,
  designCoefficient: number,
): number {
  const shortfall = (designDischarge - discharge) / designDischarge
  const peak = axialPeak(designDischarge, ratedHead, designCoefficient)
  return producible(discharge, (1 - 1.25 * shortfall ** 1.13) * peak)
}

/**
 * Pelton turbine:  e = (1 − (1.31 + 0.025j)|(Qp − Q)/Qp|^(5.6 + 0.4j))·e_p, Qp = (0.662 + 0.001j)Qd
 *
 * @param discharge Q [m³/s], all jets together.
 * @param designDischarge Qd [m³/s].
 * @param ratedHead h [m].
 * @param jets Number of jets j [–].
 * @returns Efficiency [–], 0 where the expression is negative; NaN for Q < 0.
 *
 * Limits: 0 ≤ Q ≤ Qd, all jets open equally.
 * Example: 0.5, 0.5, 200, 2 → 0.889760.
 * Source: Natural Resources Canada (CANMET), Clean Energy Project Analysis: Small Hydro, 2004, appendix (from transcriptions).
 */
export function peltonEfficiency(
  discharge: number,
  designDischarge: number,
  ratedHead: number,
  jets: number,
): number {
  return producible(discharge, peltonExpression({ discharge, designDischarge, ratedHead, jets }))
}

/**
 * Turgo turbine: the Pelton expression less 0.03.
 *
 * @param discharge Q [m³/s], all jets together.
 * @param designDischarge Qd [m³/s].
 * @param ratedHead h [m].
 * @param jets Number of jets j [–].
 * @returns Efficiency [–], 0 where the expression is negative; NaN for Q < 0.
 *
 * Limits: as `peltonEfficiency`. Machines under 20 kW fall well below it.
 * Example: 0.5, 0.5, 200, 2 → 0.859760.
 * Source: Natural Resources Canada (CANMET), Clean Energy Project Analysis: Small Hydro, 2004, appendix (from transcriptions).
 */
export function turgoEfficiency(
  discharge: number,
  designDischarge: number,
  ratedHead: number,
  jets: number,
): number {
  return producible(discharge, peltonExpression({ discharge, designDischarge, ratedHead, jets }) - 0.03)
}

/**
 * Cross-flow turbine:  e = 0.79 − 0.15(Qd − Q)/Qp − 1.37((Qd − Q)/Qp)¹⁴, Qp = Qd
 *
 * @param discharge Q [m³/s].
 * @param designDischarge Qd [m³/s].
 * @returns Efficiency [–], 0 where the expression is negative; NaN for Q < 0.
 *
 * Limits: 0 ≤ Q ≤ Qd. Both terms divide by Qp, not by Q: public copies often err here.
 * Example: 0.5, 1 → 0.714916.
 * Source: Natural Resources Canada (CANMET), Clean Energy Project Analysis: Small Hydro, 2004, appendix (from transcriptions).
 */
export function crossFlowEfficiency(discharge: number, designDischarge: number): number {
  const shortfall = (designDischarge - discharge) / designDischarge
  return producible(discharge, 0.79 - 0.15 * shortfall - 1.37 * shortfall ** 14)
}

interface PeltonPoint {
  discharge: number
  designDischarge: number
  ratedHead: number
  jets: number
}

function peltonExpression({ discharge, designDischarge, ratedHead, jets }: PeltonPoint): number {
  const rpm = 31 * Math.sqrt((ratedHead * designDischarge) / jets)
  const diameter = (49.4 * Math.sqrt(ratedHead) * jets ** 0.02) / rpm
  const peak = 0.864 * diameter ** 0.04
  const peakDischarge = (0.662 + 0.001 * jets) * designDischarge
  const distance = Math.abs((peakDischarge - discharge) / peakDischarge)
  return (1 - (1.31 + 0.025 * jets) * distance ** (5.6 + 0.4 * jets)) * peak
}

function axialPeak(designDischarge: number, ratedHead: number, designCoefficient: number): number {
  const nq = 800 / Math.sqrt(ratedHead)
  const speedTerm = ((nq - 170) / 700) ** 2
  const sizeTerm = (0.095 + speedTerm) * runnerSizeFactor(designDischarge)
  return 0.905 - speedTerm + sizeTerm - 0.0305 + 0.005 * designCoefficient
}

/** 1 − 0.789·d^−0.2 with the runner size d [m] the formula takes from the design discharge. */
function runnerSizeFactor(designDischarge: number): number {
  const small = 0.46 * designDischarge ** 0.473
  const diameter = small < 1.8 ? small : 0.41 * designDischarge ** 0.473
  return 1 - 0.789 * diameter ** -0.2
}

/** The floor described at the top of this file. */
function producible(discharge: number, efficiency: number): number {
  return discharge < 0 ? Number.NaN : Math.max(0, efficiency)
}
