import { interpolate } from './interpolate.ts'

export interface EfficiencyDesign {
  /** Input power to which the shares refer [W]. */
  ratedInput: number
  /** [share of rated input, efficiency], ascending. */
  curve: readonly (readonly [number, number])[]
  /** Loss that is there without load [W]. */
  noLoadLoss: number
}

const STEPS = 400
const HIGHEST_SHARE = 1.6

/**
 * A machine's losses over its output [W → W], from the efficiency curve of its data sheet. Between no load and
 * the curve's first point the loss runs straight from `noLoadLoss`. Worked out once, on an even grid, for it is
 * asked in every step.
 */
export function lossOverOutput(design: EfficiencyDesign): (output: number) => number {
  const byOutput: [number, number][] = [[0, design.noLoadLoss]]
  for (let i = 0; i <= STEPS; i++) {
    const input = (design.ratedInput * HIGHEST_SHARE * i) / STEPS
    const loss = lossOverInput(design, input)
    if (input > loss) byOutput.push([input - loss, loss])
  }
  const cell = byOutput.at(-1)![0] / STEPS
  const grid = Array.from({ length: STEPS + 1 }, (_, i) => interpolate(byOutput, i * cell))
  return (output) => {
    const place = Math.min(STEPS, Math.max(0, output / cell))
    const i = Math.min(STEPS - 1, Math.floor(place))
    return grid[i]! + (place - i) * (grid[i + 1]! - grid[i]!)
  }
}

export function lossOverInput(design: EfficiencyDesign, input: number): number {
  const first = design.curve[0]!
  const firstInput = first[0] * design.ratedInput
  if (input < firstInput) {
    const firstLoss = firstInput * (1 - first[1])
    return design.noLoadLoss + ((firstLoss - design.noLoadLoss) * input) / firstInput
  }
  return input * (1 - interpolate(design.curve, input / design.ratedInput))
}
