import { fitNonlinear } from '../../../statistics/nonlinearLeastSquares.ts'
import { fitLinear } from '../../../statistics/regression.ts'
import type { CurveModel, Row } from '../curveModel.ts'

/**
 * Terminals of a permanent-magnet machine with a resistive load: (k_e·ω)² = (U + I·R)² + (I·p·ω·L)², per phase, RMS.
 * x is the current I [A], y the voltage U [V], f the frequency [Hz], p the pole pairs; ω = 2πf/p.
 *
 * Limits: unity power factor at the terminals, no saturation, constant temperature.
 * Source: phasor diagram of a round-rotor machine.
 */
export const permanentMagnet: CurveModel = {
  id: 'permanentMagnet',
  formula: '(k_e·ω)² = (U + I·R)² + (I·p·ω·L)²',
  fewest: 5,
  prepare: () => ({
    formula: '(k_e·ω)² = (U + I·R)² + (I·p·ω·L)²',
    named: [
      { symbol: 'k_e', name: 'Voltage constant of a phase', unit: 'V.s', viewUnit: 'V.s' },
      { symbol: 'R', name: 'Resistance of a phase', unit: 'Ohm', viewUnit: 'Ohm' },
      { symbol: 'L', name: 'Inductance of a phase', unit: 'H', viewUnit: 'mH' },
    ],
    fit: (rows) => {
      const fit = fitNonlinear({
        predict: (parameters) => rows.map((row) => voltage(parameters, row)),
        y: rows.map((row) => row['y']!),
        start: startFrom(rows),
      })
      return fit.isSettled ? fit.parameters.map(Math.abs) : fit.parameters.map(() => Number.NaN)
    },
    predict: voltage,
  }),
}

function voltage(parameters: readonly number[], row: Row): number {
  const [k, resistance, inductance] = parameters as [number, number, number]
  const { x: current, f, p } = row as Readonly<Record<'x' | 'f' | 'p', number>>
  const emf = (k * 2 * Math.PI * f) / p
  const reactive = current * 2 * Math.PI * f * inductance
  // Beyond the point of no voltage the model has no answer; the fit steps back from there.
  return Math.sqrt(emf ** 2 - reactive ** 2) - current * resistance
}

/** A straight line gives voltage constant and resistance; half of the drop could be the inductance's. */
function startFrom(rows: readonly Row[]): number[] {
  const line = fitLinear({ columns: [rows.map((row) => row['x']!)], y: rows.map((row) => row['y']!) })
  const electrical = (2 * Math.PI * rows.reduce((sum, row) => sum + row['f']!, 0)) / rows.length
  const resistance = Math.abs(line.coefficients[1]!)
  return [(line.coefficients[0]! * rows[0]!['p']!) / electrical, 0.8 * resistance, resistance / electrical]
}
