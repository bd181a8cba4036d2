import { type AlarmView, isUnacknowledged, PRIORITY_RANK } from './alarm.ts'
import { episodesOf } from './episode.ts'
import type { FigureDescription, FigureValue } from './figure.ts'
import type { Danger, StateView } from './plant.ts'

/** What is looked at to find it. */
export interface PlantNowView {
  state: StateView
  alarms: readonly AlarmView[]
  figures: readonly { description: FigureDescription; now: () => FigureValue }[]
}

const SPEEDS = ['speed', 'turbineSpeed']
const TRIPS = ['tripped', 'emergencyStop']
const SILENT = new Set<AlarmView['state']>(['normal', 'shelved', 'suppressed', 'outOfService'])

const quantityOf = (figure: string) => figure.split('.')[0]!
const isLatched = ({ state }: AlarmView) =>
  state === 'latchedUnacknowledged' || state === 'latchedAcknowledged'

/** Whether a plant is in over-speed, or its protection has tripped and nobody has put it right; null: neither. */
export function dangerOf({ state, alarms, figures }: PlantNowView): Danger | null {
  const held = alarms.filter(
    (alarm) => !SILENT.has(alarm.state) && (alarm.isForSafety || TRIPS.includes(quantityOf(alarm.figure))),
  )
  const trips = figures.filter(
    ({ description, now }) => TRIPS.includes(quantityOf(description.id)) && now().value === 1,
  )
  const isOver = state.state === 'overSpeed' || held.some((alarm) => alarm.isForSafety && alarm.active)
  const waits = trips.length > 0 || held.some(isLatched)
  if (!isOver && !waits) return null
  const gravest = worst(held)
  const episode = episodesOf(alarms).find(({ id }) => id === gravest?.episode) ?? null
  const members = episode ? alarms.filter(({ id }) => episode.alarms.includes(id)) : held
  return {
    kind: isOver ? 'overSpeed' : 'tripped',
    speed: speedOf(figures),
    peak: peakOf(held, figures),
    since: episode?.begunAt ?? gravest?.raisedAt ?? state.since,
    by: episode?.headline ?? gravest?.name ?? trips[0]?.description.name ?? 'Over-speed',
    episode,
    action: gravest?.action ?? null,
    open: members.filter((alarm) => isUnacknowledged(alarm.state)).map((alarm) => alarm.id),
    isLatched: waits,
  }
}

function worst(held: readonly AlarmView[]): AlarmView | undefined {
  return held.toSorted((a, b) => PRIORITY_RANK[a.priority] - PRIORITY_RANK[b.priority])[0]
}

function ratedOf(id: string, figures: PlantNowView['figures']): number | undefined {
  return figures.find(({ description }) => description.id === id)?.description.rated
}

/** The faster of the shafts, as a share of its rated speed. */
function speedOf(figures: PlantNowView['figures']): number | null {
  const shares = figures.flatMap(({ description: { id, rated }, now }) => {
    if (!SPEEDS.includes(id) || !rated) return []
    const { value, quality } = now()
    return value === null || quality === 'bad' ? [] : [value / rated]
  })
  return shares.length === 0 ? null : Math.max(...shares)
}

function peakOf(held: readonly AlarmView[], figures: PlantNowView['figures']): number | null {
  const shares = held.flatMap(({ isForSafety, figure, peak }) => {
    const rated = ratedOf(figure, figures)
    return isForSafety && peak !== null && rated ? [peak / rated] : []
  })
  return shares.length === 0 ? null : Math.max(...shares)
}
