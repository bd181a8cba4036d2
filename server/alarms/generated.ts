import type { Plant } from '../plant/plant.ts'
import type { AlarmFile } from '../plant/schema.ts'
import type { FigureDescription } from '../wire/figure.ts'
import { doubtfulSource } from './kinds/doubtfulSource.ts'
import type { AlarmSetting } from './kinds/kind.ts'
import { silent } from './kinds/silent.ts'
import { shortestPeriod, stale } from './kinds/stale.ts'

/** Begins the ids of the alarms that tell of a lost input. */
const INPUT_LOST = 'input-lost'
/** Time [ms] without any message after which a plant counts as silent: a rig is watched closely. */
const SILENT_MS = { rig: 10_000, offGrid: 60_000, gridTied: 60_000 } as const
/** At least so many beats of the fastest instrument. */
const SILENT_BEATS = 5

/**
 * Alarms that nobody has to write down: an alarm whose input is lost is blind, and that is an alarm of its own with a
 * life of its own; a plant that says nothing at all is one alarm, not one per instrument; and so are readings whose source
 * is in doubt. The plant file may
 * give its own instead (kinds stale, silent and doubtfulSource), with its own priority and action.
 */
export function generatedAlarms(
  plant: Plant,
  settings: readonly AlarmSetting[],
  figures: readonly FigureDescription[],
): AlarmFile[] {
  if (settings.length === 0) return []
  const covered = new Set(settings.filter(({ kind }) => kind.lossOf !== undefined).map((one) => one.figure))
  const alarms = settings.filter((one) => one.entry === 'alarm')
  const used = new Set(alarms.flatMap((one) => one.uses).filter((figure) => !covered.has(figure)))
  const isSilenceWatched = settings.some(({ kind }) => kind.lossOf === 'plant')
  const lost = figures.filter(({ id }) => used.has(id)).map((figure) => inputLost(figure, alarms))
  const isSourceWatched = settings.some(({ kind }) => kind === doubtfulSource)
  return [
    ...lost,
    ...(isSilenceWatched ? [] : [silentPlant(plant)]),
    ...(isSourceWatched ? [] : [SOURCE_IN_DOUBT]),
  ]
}

function inputLost({ id, name }: FigureDescription, settings: readonly AlarmSetting[]): AlarmFile {
  const blind = settings.filter((one) => one.uses.includes(id))
  const isUrgent = blind.some((one) => one.priority === 'high')
  return {
    ...PLAIN,
    id: `${INPUT_LOST}-${id.replace('.', '-')}`,
    name: `Input lost: ${name.charAt(0).toLowerCase()}${name.slice(1)}`.slice(0, 80),
    kind: stale.id,
    figure: id,
    offDelay: 5000,
    priority: isUrgent ? 'medium' : 'low',
    group: 'inputs',
    cause: 'The instrument, its line or its supply has failed, or it sends what cannot be read.',
    consequence: `Nobody can say whether this holds: ${blind.map((one) => one.name).join(', ')}.`.slice(
      0,
      300,
    ),
    action: 'Look at the instrument; until it is back, watch by other means.',
  }
}

function silentPlant(plant: Plant): AlarmFile {
  return {
    ...PLAIN,
    id: 'telemetry-silent',
    name: 'Telemetry silent',
    kind: silent.id,
    after: Math.max(SILENT_MS[plant.use], SILENT_BEATS * shortestPeriod(plant)),
    priority: 'medium',
    group: 'inputs',
    cause: 'Power, network or broker at the plant, or the plant itself.',
    consequence: 'Nothing is watched: no alarm of this plant can come.',
    action: 'Ask somebody at the plant; look at its connection.',
  }
}

const PLAIN = { entry: 'alarm', onDelay: 0, offDelay: 0, latching: false, record: false } as const

const SOURCE_IN_DOUBT: AlarmFile = {
  ...PLAIN,
  id: 'source-in-doubt',
  name: 'Source of readings in doubt',
  kind: doubtfulSource.id,
  offDelay: 20_000,
  priority: 'medium',
  group: 'inputs',
  cause:
    'Two senders on one topic, a device whose clock is wrong, or somebody who sends readings that are none.',
  consequence:
    'What is shown may not be what the instrument measures. Over-speed is judged on every reading all the same.',
  action: 'Look at the machine itself. Find who publishes to the topic; set the clock of the device.',
}
