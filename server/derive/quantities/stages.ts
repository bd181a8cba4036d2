import type { Quantity, ValidityFloor, Way } from '../quantity.ts'

interface StageLoss extends Pick<Quantity, 'id' | 'name' | 'symbol'>, Pick<Way, 'formula' | 'defaults'> {
  /** What comes in is the first one. */
  inputs: Way['inputs']
  /** Instruments to look at when more comes out than in. */
  suspects: string
  source?: string
}

/** What a stage takes in less what it gives on. Blank while next to nothing comes in; a gain is impossible. */
export function stageLoss(stage: StageLoss): Quantity {
  const { id, name, symbol, suspects, source = 'power balance of a stage', ...way } = stage
  const [taken] = Object.keys(way.inputs)
  return {
    id,
    name,
    symbol,
    unit: 'W',
    group: 'balance',
    ways: [
      {
        ...way,
        valid: [
          {
            test: `${taken} > 0.05 * P_r`,
            constants: { P_r: 'generator.ratedPower' },
            otherwise: 'less than 5 % of rated power comes in',
          },
        ],
        possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects },
        source,
      },
    ],
  }
}

/** Blank below 5 % of the power of the water at the ratings; the way has `rho` and `g` among its inputs. */
export function aboveRatedWater(power: string, name: string): ValidityFloor {
  return {
    test: `${power} > 0.05 * Q_r * H_r * rho * g`,
    constants: { Q_r: 'turbine.ratedDischarge', H_r: 'turbine.ratedNetHead' },
    otherwise: `${name} is below 5 % of rated`,
  }
}
