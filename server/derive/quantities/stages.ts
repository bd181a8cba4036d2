import {
  type FigureRecord,
  type Quantity,
  type ValidityFloor,
  type Way,
  whileNotMotoring,
} from '../quantity.ts'

interface StageLoss extends Pick<Quantity, 'id' | 'name' | 'symbol'>, Pick<Way, 'formula' | 'defaults'> {
  /** What comes in is the first one. */
  inputs: Way['inputs']
  /** Instruments to look at when more comes out than in. */
  suspects: string
  source?: string
}

/** What a stage takes in less what it gives on. Blank while next to nothing comes in; a gain is impossible. */
export function stageLoss({ suspects, ...stage }: StageLoss): FigureRecord {
  const [taken] = Object.keys(stage.inputs)
  return {
    source: 'power balance of a stage',
    ...stage,
    unit: 'W',
    group: 'balance',
    valid: [
      ...Object.keys(stage.inputs)
        .filter((symbol) => stage.inputs[symbol] === 'activePower')
        .map(whileNotMotoring),
      {
        test: `${taken} > 0.05 * P_r`,
        constants: { P_r: 'generator.ratedPower' },
        otherwise: 'less than 5 % of rated power comes in',
      },
    ],
    possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects },
  }
}

/**
 * Blank below 5 % of the power of the water at the ratings, and at zero; the way has `rho` and `g` among its inputs.
 *
 * @param power Symbol, its name for people and what to say at zero.
 */
export function aboveRatedWater(power: Readonly<Record<string, readonly [string, string]>>): ValidityFloor[] {
  const [[what, [name, atZero]]] = Object.entries(power) as [[string, [string, string]]]
  return [
    {
      test: `${what} > 0.05 * Q_r * H_r * rho * g`,
      constants: { Q_r: 'turbine.ratedDischarge', H_r: 'turbine.ratedNetHead' },
      otherwise: `${name} is below 5 % of rated`,
    },
    { test: `${what} > 0`, otherwise: atZero },
  ]
}
