import { withoutFollowing } from './followingFaults.ts'
import { planPlant } from './livePlant.ts'
import { joinFaults, printDoubt, printFault, readPlant, sortByLine } from './plant/load.ts'
import type { LineOf, Plant, PlantFault, Rest } from './plant/plant.ts'
import { doubtsAbout } from './plausible/index.ts'
import { readSmallFile } from './readSmallFile.ts'

/** Plant files on disk: read together, so that every fault of all of them is told at once. */
export type PlantFilesResult = { plants: Plant[] } | { complaints: string[] }

export function readPlantFiles(files: readonly string[]): PlantFilesResult {
  const complaints: string[] = []
  const plants = files.flatMap((file) => {
    const result = readOne(file)
    if ('plant' in result) return [result.plant]
    complaints.push(...result.complaints)
    return []
  })
  plants.forEach((plant, i) => {
    const twin = plants.findIndex((other) => other.id === plant.id)
    if (twin < i)
      complaints.push(
        `${plant.file}: id: found "${plant.id}", expected an id other than that of ${plants[twin]!.file}`,
      )
  })
  return complaints.length > 0 ? { complaints } : { plants }
}

function readOne(file: string): { plant: Plant } | { complaints: string[] } {
  let text: string
  try {
    text = readSmallFile(file)
  } catch (error) {
    return { complaints: [`${file}: cannot be read: ${error instanceof Error ? error.message : error}`] }
  }
  const read = readPlantText(text, file)
  return 'plant' in read ? read : { complaints: read.faults.map((fault) => printFault(file, fault)) }
}

/** The plant that a text says, with what is doubtful in it, or everything that is wrong with it. */
export function readPlantText(text: string, file: string): { plant: Plant } | { faults: PlantFault[] } {
  const result = readPlant(text, file)
  if ('faults' in result) return { faults: allFaults(result) }
  const { plant, lineOf } = result
  const faults = planPlant(plant).faults.map((fault) => withLine(fault, lineOf))
  if (faults.length > 0) return { faults }
  const doubts = sortByLine(doubtsAbout(plant).map((doubt) => withLine(doubt, lineOf)))
  return { plant: { ...plant, doubts } }
}

/** With those of figures and alarms, as far as they do not follow from what is told already. */
function allFaults({ faults, rest }: { faults: PlantFault[]; rest?: Rest }): PlantFault[] {
  if (!rest) return faults
  const { plant, lineOf, lost } = rest
  return joinFaults(
    faults,
    withoutFollowing(planPlant(plant).faults, { plant, lost, isIncomplete: true }),
    lineOf,
  )
}

function withLine(fault: PlantFault, lineOf: LineOf): PlantFault {
  const line = lineOf(fault.path)
  return line === undefined ? fault : { ...fault, line }
}

/** One sentence for each thing in these plant files that can hardly be meant. */
export function describeDoubts(plants: readonly Plant[]): string[] {
  return plants.flatMap(({ file, doubts = [] }) => doubts.map((doubt) => printDoubt(file, doubt)))
}

/** What --check prints for a plant that can run: first what is doubtful in its file. */
export function describeCheck(plant: Plant): string {
  const { plan, settings } = planPlant(plant)
  const derived = plan.nodes.filter((node) => node.kind === 'derived')
  const doubts = describeDoubts([plant])
  const verdict =
    doubts.length === 0
      ? 'in order'
      : `can run, with ${doubts.length === 1 ? 'one place' : `${doubts.length} places`} to look at (above)`
  return [
    ...doubts,
    `${plant.file}: ${verdict}. "${plant.name}" (${plant.id})`,
    '  subscribes to:',
    ...plant.instruments.map((one) => `    ${one.topic} → ${one.quantity} [${one.unit.code}]`),
    '  derives:',
    ...derived.map(
      ({ description: { id, unit }, expression }) =>
        `    ${id} [${unit}] = ${expression.text}${isOwn(plant, id) ? ' (own)' : ''}`,
    ),
    '  cannot derive:',
    ...plan.missing.map((one) => `    ${one.id}: ${one.needs}`),
    `  watches ${settings.length} alarms: ${settings.map((one) => one.id).join(', ') || 'none'}`,
  ].join('\n')
}

function isOwn({ figures }: Plant, id: string): boolean {
  return figures.some((figure) => figure.id === id)
}
