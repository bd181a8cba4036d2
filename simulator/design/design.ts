import { faultsOf } from '../../server/plant/load.ts'
import type { Plant, PlantFault } from '../../server/plant/plant.ts'
import type { PlantDesign } from '../plants/plant.ts'
import { type Built, builtSchema } from './built.ts'
import { electricalDesign } from './electricalDesign.ts'
import { createGiven } from './given.ts'
import { shaftDesign } from './shaftDesign.ts'
import { waterDesign } from './waterDesign.ts'

/**
 * The plant as the simulator builds it: the ratings of its file, `simulation.built`, and what is usual for the rest.
 *
 * @returns The design, or what is missing or cannot be played, by path.
 */
export function designOf(plant: Plant): { design: PlantDesign } | { faults: PlantFault[] } {
  const faults: PlantFault[] = []
  const built = readBuilt(plant, faults)
  if (!built) return { faults }
  const given = createGiven(plant, faults)
  const { level, delay } = built.overSpeed ?? { level: Number.NaN, delay: Number.NaN }
  const design: PlantDesign = {
    water: waterDesign(plant, { given, built }),
    shaft: shaftDesign(plant, { given, built }),
    electrical: electricalDesign(plant, { given, built }),
    overSpeed: built.overSpeed && { level: level * given.need('generator.ratedSpeed'), delay },
  }
  return faults.length > 0 ? { faults } : { design }
}

function readBuilt({ simulation }: Plant, faults: PlantFault[]): Built | undefined {
  const raw = simulation?.built ?? {}
  const read = builtSchema.safeParse(raw)
  if (read.success) return read.data
  for (const fault of read.error.issues.flatMap((issue) => faultsOf(issue, raw)))
    faults.push({ ...fault, path: `simulation.built.${fault.path}` })
  return undefined
}
