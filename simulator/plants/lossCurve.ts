import { interpolate } from './interpolate.ts'

export interface EfficiencyDesign {
  /** Output power to which the shares refer [W]. */
  ratedOutput: number
  /** [share of rated output, efficiency], ascending, as data sheets have it. */
  curve: readonly (readonly [number, number])[]
  /** Loss that is there without load [W]. */
  noLoadLoss: number
}

const STEPS = 400
const HIGHEST_SHARE = 1.6

/** Loss [W] at an output [W]. Between no load and the curve's first point it runs straight from `noLoadLoss`. */
function lossAt({ ratedOutput, curve, noLoadLoss }: EfficiencyDesign, output: number): number {
  const first = curve[0]!
  const firstOutput = first[0] * ratedOutput
  if (output >= firstOutput) return output * (1 / interpolate(curve, output / ratedOutput) - 1)
  const firstLoss = firstOutput * (1 / first[1] - 1)
  return noLoadLoss + ((firstLoss - noLoadLoss) * output) / firstOutput
}

/** A machine's losses over its output and over its input [W → W], worked out once: they are asked for in every step. */
export function lossCurves(design: EfficiencyDesign) {
  const outputs = Array.from(
    { length: STEPS + 1 },
    (_, i) => (design.ratedOutput * HIGHEST_SHARE * i) / STEPS,
  )
  const losses = outputs.map((output) => lossAt(design, output))
  const overInput = outputs.map((output, i) => [output + losses[i]!, losses[i]!] as const)
  const highest = overInput.at(-1)![0]
  return {
    overOutput: onEvenGrid(losses, outputs.at(-1)!),
    overInput: onEvenGrid(
      outputs.map((_, i) => interpolate(overInput, (highest * i) / STEPS)),
      highest,
    ),
  }
}

function onEvenGrid(values: readonly number[], highest: number): (x: number) => number {
  const last = values.length - 1
  return (x) => {
    const place = Math.min(last, Math.max(0, (x / highest) * last))
    const i = Math.min(last - 1, Math.floor(place))
    return values[i]! + (place - i) * (values[i + 1]! - values[i]!)
  }
}
