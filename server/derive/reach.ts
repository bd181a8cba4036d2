import type { Plan } from './plan.ts'

/** What one figure depends on. */
export interface Reach {
  /** Positions of the instruments. */
  leaves: Int32Array
  /** ∂figure/∂instrument, in the order of `leaves`; all 0 while the figure is blank. */
  sensitivities: Float64Array
  /** What the limits of each calibration come to in the figure, with sign. */
  effects: Float64Array
  inputs: InputReach[]
}

export interface InputReach {
  index: number
  /** Where the input's leaves stand among those of the figure. */
  places: Int32Array
}

/** An instrument that names no calibration. */
export const ALONE = -1

/** Inputs come before their use, so that one pass finds what each figure depends on. */
export function reachOf(plan: Plan, calibrations: number): Reach[] {
  const reaches: Reach[] = []
  for (const node of plan.nodes) {
    const inputs = node.kind === 'derived' ? node.inputs : []
    const found = new Set(
      node.kind === 'measured' ? [node.leaf] : inputs.flatMap((i) => [...reaches[i]!.leaves]),
    )
    const leaves = Int32Array.from([...found].sort((a, b) => a - b))
    reaches.push({
      leaves,
      sensitivities: new Float64Array(leaves.length),
      effects: new Float64Array(calibrations),
      inputs: inputs.map((index) => ({
        index,
        places: reaches[index]!.leaves.map((leaf) => leaves.indexOf(leaf)),
      })),
    })
  }
  return reaches
}

/** Number of each instrument's calibration, and whether that one is rectangular. */
export function calibrationsOf(plan: Plan): { calibrationOf: Int32Array; isFlat: boolean[] } {
  const accuracies = plan.plant.instruments.map(({ accuracy }) => accuracy)
  const names = accuracies.map((accuracy) => accuracy?.calibration)
  const shared = [...new Set(names)].filter((name) => name !== undefined)
  return {
    calibrationOf: Int32Array.from(names, (name) => (name === undefined ? ALONE : shared.indexOf(name))),
    isFlat: shared.map((name) => accuracies[names.indexOf(name)]!.distribution === 'rectangular'),
  }
}
