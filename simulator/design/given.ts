import type { Plant, PlantFault } from '../../server/plant/plant.ts'
import type { Built } from './built.ts'

/** Numbers of a plant file, and what was asked for in vain. */
export interface Given {
  /** A number that the simulator cannot do without, by its path in the file; NaN and a fault where it is missing. */
  need(path: string): number
  /** A number that may be missing. */
  find(path: string): number | undefined
  /** Something else that is wrong or missing. */
  fault(path: string, received: string, expected: string): void
}

export interface Sources {
  given: Given
  built: Built
}

export function createGiven(plant: Plant, faults: PlantFault[]): Given {
  const fault = (path: string, received: string, expected: string) => {
    if (!faults.some((one) => one.path === path)) faults.push({ path, received, expected })
  }
  return {
    find: (path) => plant.constants.get(path),
    need(path) {
      const value = plant.constants.get(path)
      if (value === undefined) fault(path, 'nothing', 'an amount, for the simulator plays with it')
      return value ?? Number.NaN
    },
    fault,
  }
}
