import type { Readings } from '../support/figureBench.ts'

/** Water and gravity of most textbooks: 1000 kg/m³ and 9.81 m/s². */
export const TEXTBOOK = { site: 'gravity: 9.81 m/s2, waterDensity: 1000 kg/m3' }

/** A gauge at the machine that shows this net head [m] of textbook water; nothing else is known of the pipe. */
export function atHead(head: number): Readings {
  return { inletPressure: `${head * 9810} Pa` }
}

/** The same amount on three phases, such as phaseVoltage.1 … .3. */
export function onPhases(role: string, amounts: readonly number[], unit: string): Readings {
  return Object.fromEntries(amounts.map((amount, k) => [`${role}.${k + 1}`, `${amount} ${unit}`]))
}
