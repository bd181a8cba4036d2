import type { Plan } from './plan.ts'

/** What one figure depends on. */
export interface Reach {
  /** Positions of the instruments, and behind these of the constants that err. */
  leaves: Int32Array
  /** ∂figure/∂leaf, in the order of `leaves`; all 0 while the figure is blank. */
  sensitivities: Float64Array
  /** What the limits of each calibration come to in the figure, with sign. */
  effects: Float64Array
  inputs: InputReach[]
}

export interface InputReach {
  /** Slot of a figure or constant. */
  index: number
  /** Where the input's leaves stand among those of the figure. */
  places: Int32Array
}

/** What names no calibration. */
export const ALONE = -1

/**
 * By slot: of every figure, and of the constants that err. Inputs come before their use, so that one pass finds what each
 * figure depends on.
 */
export function reachOf({ nodes, plant, doubtful }: Plan, calibrations: number): Reach[] {
  const reaches: Reach[] = []
  const add = (slot: number, inputs: readonly number[], own: readonly number[]) => {
    const found = new Set([...own, ...inputs.flatMap((input) => [...reaches[input]!.leaves])])
    const leaves = Int32Array.from([...found].sort((a, b) => a - b))
    reaches[slot] = {
      leaves,
      sensitivities: new Float64Array(leaves.length),
      effects: new Float64Array(calibrations),
      inputs: inputs.map((index) => ({
        index,
        places: reaches[index]!.leaves.map((leaf) => leaves.indexOf(leaf)),
      })),
    }
  }
  for (const [i, { slot }] of doubtful.entries()) add(slot, [], [plant.instruments.length + i])
  for (const node of nodes) {
    if (node.kind === 'measured') add(node.index, [], [node.leaf])
    else if (node.kind === 'accumulated') add(node.index, [], [])
    else add(node.index, [...node.inputs, ...node.doubtful.map((i) => doubtful[i]!.slot)], [])
  }
  return reaches
}

/** Number of each leaf's calibration, and whether that one is rectangular. */
export function calibrationsOf({ plant, doubtful }: Plan): { calibrationOf: Int32Array; isFlat: boolean[] } {
  const leaves = [
    ...plant.instruments.map(({ accuracy }) => ({
      name: accuracy?.calibration,
      isRectangular: accuracy?.distribution === 'rectangular',
    })),
    ...doubtful.map(({ error }) => ({ name: error.calibration, isRectangular: error.isRectangular })),
  ]
  const names = leaves.map(({ name }) => name)
  const shared = [...new Set(names)].filter((name) => name !== undefined)
  return {
    calibrationOf: Int32Array.from(names, (name) => (name === undefined ? ALONE : shared.indexOf(name))),
    isFlat: shared.map((name) => leaves[names.indexOf(name)]!.isRectangular),
  }
}
