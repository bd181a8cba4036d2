import { hasJets, type Way } from './quantity.ts'

const MOST_SPEARS = 8

/**
 * One way for each number of spear nozzles: their coefficients Cd(s) are added up, so the formula is as long as the
 * machine has jets.
 *
 * @param way Its formula from the sum of the coefficients, such as "nozzle(s_1) + nozzle(s_2)"; with d, the bore.
 */
export function spearWays(way: Omit<Way, 'formula'> & { formula: (opening: string) => string }): Way[] {
  return Array.from({ length: MOST_SPEARS }, (_, i) => {
    const spears = Array.from({ length: i + 1 }, (_spear, k) => k + 1)
    return {
      ...way,
      formula: way.formula(spears.map((k) => `nozzle(s_${k})`).join(' + ')),
      inputs: { ...way.inputs, ...Object.fromEntries(spears.map((k) => [`s_${k}`, `needleStroke.${k}`])) },
      constants: { d: 'turbine.nozzleBore' },
      curves: { nozzle: 'turbine.nozzleCurve' },
      applies: (plant) =>
        hasJets(plant) && plant.turbine?.nozzleCurve !== undefined && plant.turbine.jets === spears.length,
    }
  })
}
