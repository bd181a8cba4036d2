import type { Plant, PlantFault } from '../plant/plant.ts'
import type { AlarmFile } from '../plant/schema.ts'
import type { AlarmPriority } from '../wire/alarm.ts'
import type { FigureDescription } from '../wire/figure.ts'
import type { PlantExpression } from './expression.ts'
import { createFieldReader, readWhile } from './fieldReader.ts'
import { generatedAlarms } from './generated.ts'
import { alarmKinds } from './kinds/index.ts'
import { type AlarmKind, type AlarmSetting, AmountFault, type WatchedCondition } from './kinds/kind.ts'

/** Longest time [ms] that an alarm may be shelved, where the plant file does not say. */
const SHELF_MS: Record<AlarmPriority, number> = { high: 3_600_000, medium: 28_800_000, low: 28_800_000 }

/** Fields that every kind has. */
const COMMON: readonly (keyof AlarmFile)[] = [
  'id',
  'name',
  'entry',
  'kind',
  'while',
  'onDelay',
  'offDelay',
  'latching',
  'priority',
  'group',
  'shelf',
  'record',
  'cause',
  'consequence',
  'action',
]

/** Resolves limits such as "110 % of rated" or "0.15 m"; every fault is reported. Alarms of our own are added. */
export function readAlarmSettings(
  plant: Plant,
  figures: readonly FigureDescription[],
): { settings: AlarmSetting[]; faults: PlantFault[] } {
  const faults: PlantFault[] = []
  const settings: AlarmSetting[] = []
  const read = (alarm: AlarmFile, path: string) => {
    const result = readSetting({ alarm, plant, path }, figures)
    if ('setting' in result) settings.push(result.setting)
    else faults.push(result.fault)
  }
  for (const [i, alarm] of plant.alarms.entries()) read(alarm, `alarms[${i}]`)
  for (const alarm of generatedAlarms(plant, settings, figures)) read(alarm, `alarms (added for ${alarm.id})`)
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
  const fault = (field: keyof AlarmFile, expected: string) => ({
    fault: { path: `${path}.${field}`, received: received(alarm[field]), expected },
  })
  const kind = alarmKinds.find((one) => one.id === alarm.kind)
  if (!kind) return fault('kind', `an alarm kind: ${alarmKinds.map((one) => one.id).join(', ')}`)
  const field = fieldFault(kind, alarm, figures)
  if (field) return fault(field.field, field.expected)
  try {
    const options = { file: alarm, plant, figures }
    const watched = kind.read(createFieldReader(options))
    const condition = readWhile(options)
    return { setting: settingOf(alarm, kind, { watched, condition }) }
  } catch (error) {
    if (error instanceof AmountFault) return fault(error.field, error.expected)
    throw error
  }
}

function settingOf(
  alarm: AlarmFile,
  kind: AlarmKind,
  { watched, condition }: { watched: WatchedCondition; condition: PlantExpression | undefined },
): AlarmSetting {
  const { id, name, entry, priority, latching } = alarm
  const figure = alarm.figure ?? watched.figure ?? ''
  return {
    ...watched,
    id,
    name,
    entry,
    priority,
    latching,
    kind,
    figure,
    onDelayMs: alarm.onDelay,
    offDelayMs: alarm.offDelay,
    group: alarm.group ?? null,
    longestShelfMs: kind.isForSafety ? 0 : (alarm.shelf ?? SHELF_MS[priority]),
    isRecorded: alarm.record || kind.isForSafety || figure.split('.')[0] === 'tripped',
    ...(condition === undefined ? {} : { while: condition }),
    texts: textsOf(alarm),
  }
}

function textsOf({ cause, consequence, action }: AlarmFile): AlarmSetting['texts'] {
  return {
    ...(cause === undefined ? {} : { cause }),
    ...(consequence === undefined ? {} : { consequence }),
    ...(action === undefined ? {} : { action }),
  }
}

/** The first field that is missing, of no use to the kind, or names no figure of this plant. */
function fieldFault(
  kind: AlarmKind,
  alarm: AlarmFile,
  figures: readonly FigureDescription[],
): { field: keyof AlarmFile; expected: string } | undefined {
  const missing = kind.needs.find((field) => alarm[field] === undefined)
  if (missing) return { field: missing, expected: `"${missing}", which the kind "${kind.id}" needs` }
  const useful = [...COMMON, ...kind.needs, ...kind.may]
  const idle = (Object.keys(alarm) as (keyof AlarmFile)[]).find((field) => !useful.includes(field))
  if (idle) return { field: idle, expected: `no such key for the kind "${kind.id}"` }
  if (alarm.figure !== undefined && !figures.some((one) => one.id === alarm.figure)) {
    const known = figures.map((one) => one.id).join(', ')
    return { field: 'figure', expected: `a figure that this plant has: ${known}` }
  }
  if (kind.isForSafety && alarm.onDelay > 0)
    return { field: 'onDelay', expected: `no on-delay: the kind "${kind.id}" is never delayed` }
  if (kind.isForSafety && (alarm.shelf ?? 0) > 0)
    return { field: 'shelf', expected: `no "shelf": the kind "${kind.id}" is never shelved` }
  return undefined
}

function received(value: unknown): string {
  return value === undefined ? 'nothing' : typeof value === 'string' ? `"${value}"` : JSON.stringify(value)
}
