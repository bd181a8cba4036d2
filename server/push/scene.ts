import type { ShownPlant } from '../mirror/shownPlant.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { PlantView, StateView } from '../wire/plant.ts'
import type { SceneView } from '../wire/scene.ts'

/** What browsers can watch under one id: a plant as it is now, or something that is stamped as another thing. */
export interface Scene {
  /** What a browser joins; the id of `view` is the same. */
  id: string
  view: PlantView
  /** By the index of the view's figures. */
  value(index: number): FigureValue
  state(): StateView
  alarms(): AlarmView[]
  /** Null only for the plant as it is now. */
  stamp(): SceneView | null
}

/** What changed in a scene since it was shown last. */
export interface SceneChange {
  /** Indexes of figures. */
  figures: readonly number[]
  alarms: readonly AlarmView[]
}

export function liveScene(live: ShownPlant): Scene {
  return {
    id: live.plant.id,
    view: live.view,
    value: (index) => live.evaluator.view(index),
    state: live.state,
    alarms: live.alarms,
    stamp: () => null,
  }
}
