import { type Signal, signal } from '@preact/signals'
import type { AlarmView } from '../../server/wire/alarm.ts'
import type { FigureDescription, FigureValue } from '../../server/wire/figure.ts'
import type { HealthLine, PlantView, Snapshot, SourceView, StateView } from '../../server/wire/plant.ts'
import type { SceneView } from '../../server/wire/scene.ts'
import type { Frame } from '../../server/wire/socketEvents.ts'
import { type UnitView, unitView } from '../../server/wire/units.ts'

/** One figure on the page: only what shows this one is drawn anew when it changes. */
export interface FigureHold {
  description: FigureDescription
  unit: UnitView
  value: Signal<FigureValue>
}

/** Everything the page knows about the plant it shows. */
export interface PlantHold {
  view: PlantView
  /** In the order of the snapshot: frames name figures by index. */
  figures: FigureHold[]
  byId: ReadonlyMap<string, FigureHold>
  alarms: Signal<AlarmView[]>
  state: Signal<StateView>
  source: Signal<SourceView>
  health: Signal<HealthLine>
  /** Null while this is the plant as it is now. */
  scene: Signal<SceneView | null>
  /** Of the newest frame or snapshot taken in. */
  sequence: number
  /** Called with every frame after it was taken in. */
  onFrame: Set<(frame: Frame) => void>
}

export function createPlantHold(snapshot: Snapshot): PlantHold {
  const figures = snapshot.plant.figures.map((description, i) => ({
    description,
    unit: unitView(description.unit, description.viewUnit),
    value: signal(snapshot.values[i] ?? NOT_YET),
  }))
  return {
    view: snapshot.plant,
    figures,
    byId: new Map(figures.map((figure) => [figure.description.id, figure])),
    alarms: signal(snapshot.alarms),
    state: signal(snapshot.state),
    source: signal(snapshot.source),
    health: signal(snapshot.health),
    scene: signal(snapshot.scene ?? null),
    sequence: snapshot.sequence,
    onFrame: new Set(),
  }
}

const NOT_YET: FigureValue = { value: null, at: null, quality: 'bad', reasons: ['not received yet'] }

/** True when a snapshot describes the same plant in the same way, so that the page can stay as it is. */
export function isSamePlant(hold: PlantHold, snapshot: Snapshot): boolean {
  return JSON.stringify(hold.view) === JSON.stringify(snapshot.plant)
}

/** Takes a newer snapshot of the same plant in, after a reconnection. */
export function takeSnapshot(hold: PlantHold, snapshot: Snapshot): void {
  hold.figures.forEach((figure, i) => {
    figure.value.value = snapshot.values[i] ?? NOT_YET
  })
  hold.alarms.value = snapshot.alarms
  hold.state.value = snapshot.state
  hold.source.value = snapshot.source
  hold.health.value = snapshot.health
  hold.scene.value = snapshot.scene ?? null
  hold.sequence = snapshot.sequence
}

/**
 * Takes a frame in. An older frame than the one shown is passed over: it was overtaken by a snapshot.
 * `unknownFigure` says that the frame names a figure this page has not heard of and must join anew.
 */
export function takeFrame(hold: PlantHold, frame: Frame): 'taken' | 'old' | 'unknownFigure' {
  if (frame.sequence <= hold.sequence) return 'old'
  if (frame.values.some(([index]) => !hold.figures[index])) return 'unknownFigure'
  hold.sequence = frame.sequence
  for (const [index, value] of frame.values) hold.figures[index]!.value.value = value
  if (frame.alarms) hold.alarms.value = mergeAlarms(hold.alarms.value, frame.alarms)
  if (frame.state) hold.state.value = frame.state
  if (frame.source) hold.source.value = frame.source
  if (frame.health) hold.health.value = frame.health
  if (frame.scene) hold.scene.value = frame.scene
  for (const listener of hold.onFrame) listener(frame)
  return 'taken'
}

/** Newer views replace older ones by id: a notice may overtake the frame that carries the state before. */
export function mergeAlarms(held: AlarmView[], newer: AlarmView[]): AlarmView[] {
  const merged = new Map(held.map((alarm) => [alarm.id, alarm]))
  for (const alarm of newer) {
    const before = merged.get(alarm.id)
    if (!before || (alarm.changedAt ?? 0) >= (before.changedAt ?? 0)) merged.set(alarm.id, alarm)
  }
  return [...merged.values()]
}
