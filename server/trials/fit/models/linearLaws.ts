import { idealJetFlow } from '../../../physics/turbine.ts'
import { linearLaw, type Row } from '../curveModel.ts'

/**
 * Voltage without load: U = k_e·ω, a straight line through zero. x is the speed ω [rad/s], y the phase voltage U [V].
 *
 * Limits: no load current; permanent magnets, or constant excitation.
 * Source: law of induction.
 */
export const voltageConstant = linearLaw({
  id: 'voltageConstant',
  formula: 'U = k_e·ω',
  fewest: 3,
  named: [{ symbol: 'k_e', name: 'Voltage constant of a phase', unit: 'V.s', viewUnit: 'V.s' }],
  terms: [(row) => row['x']!],
})

/**
 * Loss of a pipe in the rough regime: h = k·Q². x is the discharge Q [m³/s], y the head lost h [m].
 *
 * Limits: one setting of every valve; where friction counts more than bends the exponent is nearer 1.8.
 * Source: Darcy–Weisbach with a constant friction factor.
 */
export const pipeLoss = linearLaw({
  id: 'pipeLoss',
  formula: 'h = k·Q²',
  fewest: 3,
  named: [{ symbol: 'k', name: 'Loss coefficient of the pipe', unit: 's2/m5', viewUnit: 's2/m5' }],
  terms: [(row) => row['x']! ** 2],
})

/**
 * A centrifugal pump at any speed: H = s²·H_0 − k·Q². x is the discharge Q [m³/s], y the pump head H [m], s the speed
 * as a share of full speed.
 *
 * Limits: the affinity laws hold, so not far below half speed; no rising branch at small discharge.
 * Source: affinity laws; a parabola as in pump data sheets.
 */
export const pumpCurve = linearLaw({
  id: 'pumpCurve',
  formula: 'H = s²·H_0 − k·Q²',
  fewest: 4,
  named: [
    { symbol: 'H_0', name: 'Head without discharge at full speed', unit: 'm', viewUnit: 'm' },
    { symbol: 'k', name: 'Fall of the head with discharge', unit: 's2/m5', viewUnit: 's2/m5' },
  ],
  terms: [(row) => row['s']! ** 2, (row) => -(row['x']! ** 2)],
})

/**
 * Fixed nozzles: Q = N·C_d·(π/4)·d²·√(2·g·H). x is the net head H [m], y the discharge Q [m³/s], N the open jets,
 * d the bore [m], g gravity [m/s²].
 *
 * Limits: free jets, clean nozzles; C_d hardly depends on the head.
 * Source: Torricelli, with the coefficient referred to the bore.
 */
export const nozzleLaw = linearLaw({
  id: 'nozzleLaw',
  formula: 'Q = N·C_d·(π/4)·d²·√(2·g·H)',
  fewest: 3,
  named: [{ symbol: 'C_d', name: 'Discharge coefficient of a nozzle', unit: '1', viewUnit: '1' }],
  terms: [idealDischarge],
})

function idealDischarge(row: Row): number {
  const { x: head, N, d, g } = row as Readonly<Record<'x' | 'N' | 'd' | 'g', number>>
  return N * idealJetFlow(d, head, g)
}
