import { figureOf, type Readings } from '../support/figureBench.ts'
import type { Check } from './check.ts'

/** Water and gravity of most textbooks: 1000 kg/m³ and 9.81 m/s²; the gauge at the height of the tailwater. */
export const TEXTBOOK = {
  site: 'gravity: 9.81 m/s2, waterDensity: 1000 kg/m3, elevations: { inletGauge: 0 m, tailwater: 0 m }',
}

/** A gauge at the machine that shows this net head [m] of textbook water; nothing else is known of the pipe. */
export function atHead(head: number): Readings {
  return { inletPressure: `${head * 9810} Pa` }
}

/** The same amount on three phases, such as phaseVoltage.1 … .3. */
export function onPhases(role: string, amounts: readonly number[], unit: string): Readings {
  return Object.fromEntries(amounts.map((amount, k) => [`${role}.${k + 1}`, `${amount} ${unit}`]))
}

// Worked examples of textbooks as a teaching project re-keyed them, recomputed for the project: 1000 kg/m³, 9.81 m/s².
export const KUMAR = 'Shiv Kumar, Fluid Systems'
export const GORLA = 'Gorla & Khan, Turbomachinery'

/** Checks of one such example. */
export function read(
  source: string,
  rows: readonly [what: string, got: () => number, want: number][],
): Check[] {
  return rows.map(([what, got, want]) => ({
    what,
    source: `${source}, read in a transcription, recomputed`,
    got,
    want,
  }))
}

/** Velocity [m/s] of a jet with this velocity coefficient. */
export function jet(coefficient: number, head: number): number {
  return figureOf('jetVelocity', atHead(head), {
    ...TEXTBOOK,
    turbine: `{ kind: pelton, velocityCoefficient: ${coefficient} }`,
  })
}
