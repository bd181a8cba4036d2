/**
 * Head loss of a trash rack or strainer per discharge squared [s²/m⁵]: K = K_clean / (1 − blocked)².
 * The open area shrinks with the blocked share, and the loss goes with the velocity squared.
 *
 * @param clean Loss [m] of the clean rack at a discharge [m³/s].
 * @param blocked Share of the area that is blocked, 0 … <1.
 */
export function rackResistance(clean: { loss: number; atDischarge: number }, blocked: number): number {
  return clean.loss / clean.atDischarge ** 2 / (1 - blocked) ** 2
}
