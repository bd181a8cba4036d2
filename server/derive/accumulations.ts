import type { Plant } from '../plant/plant.ts'
import type { Quality } from '../wire/figure.ts'
import type { Quantity } from './quantity.ts'

/**
 * A figure that follows from the past of others, not from their present values alone: it remembers. What it stands
 * at comes from outside the evaluator (`setAccumulated`); which plants have it and how it is shown stands here.
 */
export interface Accumulation extends Omit<Quantity, 'ways'> {
  /** For people; nothing is computed from it. */
  formula: string
  /** Symbol → figure that it needs; its uncertainty is put down to the first one. */
  inputs: Readonly<Record<string, string>>
  /** Symbol → constant of the plant file that it needs. */
  constants: Readonly<Record<string, string>>
  /** Only at plants for which this holds. */
  applies: (plant: Plant) => boolean
  /** What makes it uncertain or blank, in words. */
  method: string
  source: string
}

/** What a figure that remembers stands at. */
export interface Accumulated {
  /** In SI; NaN when it cannot be given. */
  value: number
  /** Standard uncertainty in SI, put down to the instrument of the figure's first input. */
  u: number
  /** Time up to which it was accumulated [ms UTC]; NaN before the first. */
  at: number
  quality: Quality
  reasons: readonly string[]
}

export const accumulations: readonly Accumulation[] = [
  {
    id: 'stateOfCharge',
    name: 'State of charge (counted)',
    symbol: 'SoC',
    unit: '1',
    view: '%',
    group: 'storage',
    formula: 'Q_0 / Q_r + ∫ eta_c · I dt / Q_r (eta_c only while charging)',
    inputs: { I: 'batteryCurrent' },
    constants: { Q_r: 'battery.ratedCharge', eta_c: 'battery.chargeEfficiency' },
    applies: (plant) => plant.battery !== undefined,
    method:
      'set to 100 % after ten minutes at or above battery.fullVoltage with a current below battery.tailCurrent; ' +
      'before that only the change is known, or it is counted from battery.startCharge',
    source: 'counted charge; the uncertainty grows with the time since the last full charge',
  },
]
