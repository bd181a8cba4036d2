import { quantities } from './derive/quantities/index.ts'
import { STAND_IN_KIND } from './plant/mend.ts'
import type { Plant, PlantFault } from './plant/plant.ts'
import { roleOf } from './plant/roles.ts'

interface Lost {
  plant: Plant
  /** Ids of figures that are not there because of another fault. */
  lost: ReadonlySet<string>
  /** Instruments or ratings may be missing as well. Default false. */
  isIncomplete?: boolean
}

const OF_FIGURES = /^figures\[(\d+)\]/
const OF_ALARMS = /^alarms\[(\d+)\]\.(\w+)/

/** The faults of figures and alarms that would stand if what they refer to had been in order: the others have one cause, told already. */
export function withoutFollowing(faults: readonly PlantFault[], lost: Lost): PlantFault[] {
  return faults.filter((fault) => !isFollowing(fault, lost))
}

function isFollowing({ path }: PlantFault, { plant, lost, isIncomplete = false }: Lost): boolean {
  if (lost.size === 0 && !isIncomplete) return false
  const figure = plant.figures[Number(OF_FIGURES.exec(path)?.[1])]
  if (figure)
    return (
      Object.values(figure.inputs).some((id) => lost.has(id)) ||
      [...lost].some((id) => figure.formula.includes(id))
    )
  const [, i, field] = OF_ALARMS.exec(path) ?? []
  const alarm = plant.alarms[Number(i)]
  if (!alarm || field === undefined) return false
  if (alarm.kind === STAND_IN_KIND) return true
  if (field === 'from' || field === 'while') return true
  const { figure: id, limit = '' } = alarm
  if (field === 'figure') return id !== undefined && (lost.has(id) || (isIncomplete && mayExist(id)))
  return isIncomplete && /of\s+rated/.test(limit)
}

/** Some plant has it. */
function mayExist(id: string): boolean {
  return roleOf(id) !== undefined || quantities.some((one) => one.id === id) || id.endsWith('Residual')
}
