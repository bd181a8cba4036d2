import { ratedOf } from '../derive/describe.ts'
import type { Plant, PlantFault } from '../plant/plant.ts'
import type { AlarmFile } from '../plant/schema.ts'
import { readDifference, readMeasure, unitOf } from '../plant/units.ts'
import type { FigureDescription } from '../wire/figure.ts'
import { alarmKinds } from './kinds/index.ts'
import type { AlarmKind } from './kinds/kind.ts'

/** An alarm of the plant file with its limit in the figure's SI unit. */
export interface AlarmSetting
  extends Omit<AlarmFile, 'kind' | 'limit' | 'deadband' | 'onDelay' | 'offDelay'> {
  kind: AlarmKind
  limit: number
  deadband: number
  onDelayMs: number
  offDelayMs: number
}

/** Where the plant file gives no deadband, this share of the limit. */
const DEFAULT_DEADBAND = 0.01

/** Resolves limits such as "110 % of rated" or "0.15 m"; every fault is reported. */
export function readAlarmSettings(
  plant: Plant,
  figures: readonly FigureDescription[],
): { settings: AlarmSetting[]; faults: PlantFault[] } {
  const faults: PlantFault[] = []
  const settings = plant.alarms.flatMap((alarm, i) => {
    const result = readSetting({ alarm, plant, path: `alarms[${i}]` }, figures)
    if ('setting' in result) return [result.setting]
    faults.push(result.fault)
    return []
  })
  return { settings, faults }
}

interface Place {
  alarm: AlarmFile
  plant: Plant
  path: string
}

function readSetting(
  { alarm, plant, path }: Place,
  figures: readonly FigureDescription[],
): { setting: AlarmSetting } | { fault: PlantFault } {
  const figure = figures.find((one) => one.id === alarm.figure)
  if (!figure) {
    const known = figures.map((one) => one.id).join(', ')
    return fault(`${path}.figure`, alarm.figure, `a figure that this plant has: ${known}`)
  }
  const kind = alarmKinds[alarm.kind]
  if (kind.isRaw && alarm.onDelay > 0)
    return fault(`${path}.onDelay`, `${alarm.onDelay} ms`, 'no on-delay: over-speed is never delayed')
  const rated = ratedOf(alarm.figure, plant)
  const limit = readBound(alarm.limit, { figure, rated, read: readMeasure })
  if (typeof limit === 'string') return fault(`${path}.limit`, alarm.limit, limit)
  const deadband =
    alarm.deadband === undefined
      ? Math.abs(limit) * DEFAULT_DEADBAND
      : readBound(alarm.deadband, { figure, rated, read: readDifference })
  if (typeof deadband === 'string') return fault(`${path}.deadband`, alarm.deadband!, deadband)
  const { onDelay, offDelay, ...rest } = alarm
  return { setting: { ...rest, kind, limit, deadband, onDelayMs: onDelay, offDelayMs: offDelay } }
}

interface BoundContext {
  figure: FigureDescription
  rated: number | undefined
  read: typeof readMeasure
}

/** SI value, or the sentence that says what was expected. */
function readBound(text: string, { figure, rated, read }: BoundContext): number | string {
  const share = /^(.+?)\s+of\s+rated$/.exec(text.trim())
  if (!share) {
    const result = read(text, unitOf(figure.unit))
    return 'si' in result ? result.si : `${result.expected}, or a share such as "110 % of rated"`
  }
  if (rated === undefined)
    return `a limit with a unit, since the plant file gives no rated ${figure.name.toLowerCase()}`
  const ratio = readMeasure(share[1]!, unitOf('1'))
  return 'si' in ratio ? ratio.si * rated : 'a share such as "110 % of rated"'
}

function fault(path: string, received: string, expected: string): { fault: PlantFault } {
  return { fault: { path, received: `"${received}"`, expected } }
}
