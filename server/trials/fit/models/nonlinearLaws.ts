import { fitLinear, fitPolynomial } from '../../../statistics/regression.ts'
import { nonlinearLaw, type Row } from '../curveModel.ts'

/**
 * Terminals of a permanent-magnet machine with a resistive load: (k_e·ω)² = (U + I·R)² + (I·p·ω·L)², per phase, RMS.
 * x is the current I [A], y the voltage U [V], f the frequency [Hz], p the pole pairs; ω = 2πf/p.
 *
 * Limits: unity power factor at the terminals, no saturation, constant temperature.
 * Source: phasor diagram of a round-rotor machine.
 */
export const permanentMagnet = nonlinearLaw({
  id: 'permanentMagnet',
  formula: '(k_e·ω)² = (U + I·R)² + (I·p·ω·L)²',
  fewest: 5,
  named: [
    { symbol: 'k_e', name: 'Voltage constant of a phase', unit: 'V.s', viewUnit: 'V.s' },
    { symbol: 'R', name: 'Resistance of a phase', unit: 'Ohm', viewUnit: 'Ohm' },
    { symbol: 'L', name: 'Inductance of a phase', unit: 'H', viewUnit: 'mH' },
  ],
  start: startOfMachine,
  predict: voltage,
  isUnsigned: true,
})

function voltage(parameters: readonly number[], row: Row): number {
  const [k, resistance, inductance] = parameters as [number, number, number]
  const { x: current, f, p } = row as Readonly<Record<'x' | 'f' | 'p', number>>
  const emf = (k * 2 * Math.PI * f) / p
  const reactive = current * 2 * Math.PI * f * inductance
  // Beyond the point of no voltage the model has no answer; the fit steps back from there.
  return Math.sqrt(emf ** 2 - reactive ** 2) - current * resistance
}

/** A straight line gives voltage constant and resistance; half of the drop could be the inductance's. */
function startOfMachine(rows: readonly Row[]): number[] {
  const line = fitLinear({ columns: [rows.map((row) => row['x']!)], y: rows.map((row) => row['y']!) })
  const electrical = (2 * Math.PI * rows.reduce((sum, row) => sum + row['f']!, 0)) / rows.length
  const resistance = Math.abs(line.coefficients[1]!)
  return [(line.coefficients[0]! * rows[0]!['p']!) / electrical, 0.8 * resistance, resistance / electrical]
}

/**
 * Torque of an impulse wheel over speed at one head and opening: T = T_0·(1 − (ω/ω_r)^m). x is the speed ω [rad/s],
 * y the torque T [N·m]; T_0 the torque at standstill, ω_r the runaway speed.
 *
 * Limits: one head, one opening. Standstill and runaway are read off by extension beyond the points, so their
 * intervals are wide; nobody has to go there.
 * Source: common practice for impulse wheels (m = 1 is the straight line of the simplest theory).
 */
export const runawayLaw = nonlinearLaw({
  id: 'runawayLaw',
  formula: 'T = T_0·(1 − (ω/ω_r)^m)',
  fewest: 6,
  named: [
    { symbol: 'T_0', name: 'Torque at standstill, by extension', unit: 'N.m', viewUnit: 'N.m' },
    { symbol: 'ω_r', name: 'Runaway speed, by extension', unit: 'rad/s', viewUnit: '/min' },
    { symbol: 'm', name: 'Exponent', unit: '1', viewUnit: '1' },
  ],
  start: (rows) => [
    1.5 * Math.max(...rows.map((row) => row['y']!)),
    1.6 * Math.max(...rows.map((row) => row['x']!)),
    1.2,
  ],
  predict: torque,
})

function torque(parameters: readonly number[], row: Row): number {
  const [standstill, runaway, exponent] = parameters as [number, number, number]
  return standstill * (1 - (row['x']! / runaway) ** exponent)
}

/**
 * Efficiency of a converter with three kinds of losses: η = P/(P + P_0 + a·P + b·P²). x is the output P [W], y η.
 * The best point lies at P = √(P_0/b).
 *
 * Limits: constant input voltage and power factor.
 * Source: common practice for converters: constant, proportional and resistive losses.
 */
export const inverterLosses = nonlinearLaw({
  id: 'inverterLosses',
  formula: 'η = P/(P + P_0 + a·P + b·P²)',
  fewest: 5,
  named: [
    { symbol: 'P_0', name: 'Losses without load', unit: 'W', viewUnit: 'W' },
    { symbol: 'a', name: 'Losses in proportion to the output', unit: '1', viewUnit: '%' },
  ],
  start: (rows) => {
    const output = rows.map((row) => row['x']!)
    const losses = rows.map((row) => row['x']! / row['y']! - row['x']!)
    return fitPolynomial(output, losses, 2).coefficients
  },
  predict: efficiency,
})

function efficiency(parameters: readonly number[], row: Row): number {
  const [constant, proportional, square] = parameters as [number, number, number]
  const output = row['x']!
  return output / (output + constant + proportional * output + square * output ** 2)
}
