import { ratedOf } from './describe.ts'
import { type DerivedNode, nodeOf, type Plan } from './plan.ts'
import type { Storage } from './quantity.ts'

/**
 * Whether energy is going into or coming out of storage, so that what flows in is not what flows out and an
 * efficiency means nothing.
 *
 * rotor: |J·ω·dω/dt| above 2 % of hydraulic power, or of rated power where that is not known.
 * water: the net head changes by more than 2 % within the water start time, at least within 1 s: below that the
 * readings of head and discharge are not of one moment either.
 * Both only where the slope is more than three of its standard errors, so that noise is not taken for a change.
 *
 * Source: trade practice (2 %), no source; T_w = L·v/(g·H) by IEC 60308 (from memory).
 */
export interface StorageWatch {
  /** Call before figures are computed anew. */
  reset(): void
  /** The sentence for people, or undefined while it is steady or nobody can tell. */
  reason(storage: Storage): string | undefined
}

interface Figures {
  /** NaN when it cannot be given. */
  value(index: number): number
  /** Standard error of a slope. */
  error(node: DerivedNode): number
}

/** Begins what is said of it. */
export const NOT_STEADY = 'not steady'

const LARGEST_SHARE = 0.02
const SHORTEST_TIME = 1
const SIGNIFICANT = 3

export function createStorageWatch(plan: Plan, figures: Figures): StorageWatch {
  const known = new Map<Storage, string | undefined>()
  const rated = ratedOf('activePower', plan.plant) ?? ratedOf('shaftPower', plan.plant) ?? Number.NaN
  const now = (id: string) => {
    const node = nodeOf(plan, id)
    return node ? figures.value(node.index) : Number.NaN
  }

  /** The slope, or 0 where it does not stand out of the noise. */
  function slopeOf(id: string): number {
    const node = nodeOf(plan, id)
    if (node?.kind !== 'derived') return Number.NaN
    const slope = figures.value(node.index)
    return Math.abs(slope) > SIGNIFICANT * figures.error(node) ? slope : 0
  }

  const judges: Record<Storage, () => string | undefined> = {
    rotor() {
      const power = slopeOf('speedSlope') === 0 ? 0 : now('kineticPower')
      const water = now('hydraulicPower')
      const whole = Number.isNaN(water) ? rated : Math.abs(water)
      if (!(Math.abs(power) > LARGEST_SHARE * whole)) return undefined
      return `${NOT_STEADY}: the rotor ${power > 0 ? 'takes up' : 'gives back'} ${watts(Math.abs(power))}`
    },
    water() {
      const slope = slopeOf('netHeadSlope')
      const startTime = now('waterStartTime')
      const time = Number.isNaN(startTime) ? SHORTEST_TIME : Math.max(startTime, SHORTEST_TIME)
      if (!(Math.abs(slope) * time > LARGEST_SHARE * Math.abs(now('netHead')))) return undefined
      const rate = Number(Math.abs(slope).toPrecision(2))
      return `${NOT_STEADY}: the net head ${slope > 0 ? 'rises' : 'falls'} by ${rate} m/s`
    },
  }

  return {
    reset: () => known.clear(),
    reason(storage) {
      if (!known.has(storage)) known.set(storage, judges[storage]())
      return known.get(storage)
    },
  }
}

function watts(power: number): string {
  return power >= 10_000 ? `${Number((power / 1000).toPrecision(2))} kW` : `${Number(power.toPrecision(2))} W`
}
