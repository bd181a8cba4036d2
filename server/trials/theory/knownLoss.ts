import { relations } from '../../derive/agreement/relations/index.ts'
import type { Plant } from '../../plant/plant.ts'

/** Power [W] that iron, windage and bearings take at a speed [rad/s], with its standard uncertainty. */
export interface KnownLoss {
  speed: number
  power: number
  standard: number
}

/**
 * Loss without load at rated speed from the efficiency curve of the generator: at its smallest load what the shaft
 * gives less what the terminals give less the copper,  P₀ = P/η − P − m·I²·R.
 *
 * u(P₀) = P/η · u(η)/η with u(η)/η the share of relation `generatorResidual` (plant file, `relations`; default 1 %): the
 * smallest load tells P₀ best. The current follows from E² = (U + IR)² + (IX)² and P = m·U·I at unity power factor.
 *
 * @returns Undefined where the plant file lacks curve, winding resistance or voltage constant.
 * Limits: the copper is small there; stray losses that grow with load are counted into P₀.
 * Source: definition of efficiency; generator equation of trade practice (PM machine).
 */
export function knownLoss(plant: Plant): KnownLoss | undefined {
  const { generator, constants } = plant
  const first = generator?.efficiencyCurve?.[0]
  const [rated, resistance, speed, voltageConstant] = [
    'generator.ratedPower',
    'generator.windingResistance',
    'generator.ratedSpeed',
    'generator.voltageConstant',
  ].map((path) => constants.get(path))
  if (!generator || !first || rated === undefined || resistance === undefined) return undefined
  if (speed === undefined || voltageConstant === undefined) return undefined
  const reactance = (generator.polePairs ?? 1) * speed * (constants.get('generator.windingInductance') ?? 0)
  const power = first[0] * rated
  const shaft = power / first[1]
  const emf = voltageConstant * speed
  const current = currentAt({ power: power / generator.phases, emf, resistance, reactance })
  const share =
    plant.relations['generatorResidual'] ?? relations.find((one) => one.id === 'generatorResidual')!.share
  return {
    speed,
    power: shaft - power - generator.phases * current ** 2 * resistance,
    standard: share * shaft,
  }
}

interface Phase {
  power: number
  emf: number
  resistance: number
  reactance: number
}

/** Current of a phase that gives `power` [W]; settles within a few rounds at small load. */
function currentAt({ power, emf, resistance, reactance }: Phase): number {
  let current = 0
  for (let round = 0; round < 50; round++) {
    const inner = Math.max(0, emf ** 2 - (current * reactance) ** 2)
    current = power / Math.max(1e-9, Math.sqrt(inner) - current * resistance)
  }
  return current
}
