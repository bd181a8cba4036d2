/**
 * What the named functions of formulas stand for, for people who work a point by hand; the functions themselves are in
 * server/physics, each with its source. Lengths in m, discharge in m³/s, speed in rad/s, power in W.
 */
export const FORMULA_WORDS: Readonly<Record<string, string>> = {
  boreArea: 'π·D²/4',
  meanVelocity: '4·Q/(π·D²)',
  reynoldsNumber: 'v·D/ν',
  darcyLoss: 'f·(L/D)·v²/(2·g)',
  minorLoss: 'K·v²/(2·g)',
  jetVelocity: 'C_v·√(2·g·H)',
  idealJetFlow: 'π/4·d²·√(2·g·H)',
  bucketSpeed: 'ω·D/2',
  unitSpeed: 'n·D/√H with n in min⁻¹',
  unitDischarge: 'Q/(D²·√H)',
  unitPower: 'P/(D²·H^1.5) with P in kW',
  waterDensityTanaka: 'density of air-free water at one atmosphere by its temperature, Tanaka et al. 2001',
  gravityIec60041: 'gravity by latitude and altitude, IEC 60041',
  standardGravity: 'standard gravity',
}
