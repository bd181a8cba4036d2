import { explainFigure } from '../derive/explain.ts'
import type { ShownPlant } from '../mirror/shownPlant.ts'
import { granted, noFigure, type Outcome } from '../outcome.ts'
import { CONCEALED, concealedWith, plainAlarm, plainState, withoutNumbers } from '../push/conceal.ts'
import { liveScene, type Scene } from '../push/scene.ts'
import type { ExplainReply } from '../wire/explain.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { LessonView, QuestionView, SteadyLamp } from '../wire/lesson.ts'
import type { PlantView, StateView } from '../wire/plant.ts'
import type { ReplayView } from '../wire/scene.ts'
import { settingText } from '../wire/setting.ts'
import type { Arrangement, Frozen } from './lessonStore.ts'
import { createSteadyWatch } from './steadyWatch.ts'

/** What the class saw at one moment. */
export interface Moment {
  at: number
  shownAt: number
  shown: 'live' | 'frozen' | 'replay'
  setting: string
  steady: SteadyLamp
  view: PlantView
  /** In the order of the view; hidden ones are CONCEALED. */
  values: FigureValue[]
}

export interface LessonSceneOptions {
  id: number
  plant: string
  plants: () => ReadonlyMap<string, ShownPlant>
  /** Any scene by its id, also a plant. */
  sceneOf: (id: string) => Scene | undefined
  arrangement: () => Arrangement
  about: () => { title: string; question: QuestionView | null; revision: number }
  now: () => number
}

/** The scene of a lesson: another scene without what is hidden, and still while it is frozen. */
export interface LessonScene {
  /** Undefined when the plant is not read at present. */
  scene(): Scene | undefined
  source(): Scene | undefined
  /** Takes in that the source went on; call with each change of it. */
  take(): void
  moment(): Moment | undefined
  /** What is kept when it is frozen now. */
  freeze(): Frozen | undefined
  /** A figure as it is, hidden or not; for the instructor's deeds alone. */
  bare(figure: string): FigureValue | undefined
  concealed(): ReadonlySet<string>
  /**
   * Where a figure comes from, with the numbers that the class sees. The formula is given without numbers where they
   * would be those of another moment (frozen, replayed) or of something hidden.
   */
  explain(figure: string): Outcome<ExplainReply>
}

export const lessonSceneId = (lesson: number) => `lesson:${lesson}`

export function createLessonScene(options: LessonSceneOptions): LessonScene {
  const { id, plant, plants, sceneOf, arrangement, about, now } = options
  const watch = createSteadyWatch()
  let shown: { from: PlantView; view: PlantView } | undefined
  let hiding: { key: string; ids: ReadonlySet<string> } | undefined
  let settingNow = ''

  /** A replay that is over gives way to the plant itself. */
  function source(): Scene | undefined {
    const live = plants().get(plant)
    return sceneOf(arrangement().source) ?? (live && liveScene(live))
  }

  function viewOf({ view }: Scene): PlantView {
    if (shown?.from !== view) shown = { from: view, view: { ...view, id: lessonSceneId(id), controls: [] } }
    return shown.view
  }

  function concealed(): ReadonlySet<string> {
    const plan = plants().get(plant)?.plan
    const wished = [...arrangement().hidden, ...(source()?.stamp()?.hidden ?? [])]
    const key = `${wished.join()} ${plan?.nodes.length}`
    if (hiding?.key !== key) hiding = { key, ids: plan ? concealedWith(plan, wished) : new Set(wished) }
    return hiding.ids
  }

  function bareAt(from: Scene, index: number): FigureValue {
    const { frozen } = arrangement()
    const figure = from.view.figures[index]?.id ?? ''
    return frozen ? (frozen.values[figure] ?? NOT_KEPT) : from.value(index)
  }

  function valueAt(from: Scene, index: number): FigureValue {
    const hidden = concealed()
    if (hidden.has(from.view.figures[index]?.id ?? '')) return CONCEALED
    const value = bareAt(from, index)
    return hidden.size > 0 ? withoutNumbers(value) : value
  }

  const settingIn = (from: Scene) =>
    settingText(from.view.figures.map(({ id }, index) => ({ id, value: valueAt(from, index).value })))

  function stateOf(from: Scene): StateView {
    const state = arrangement().frozen?.state ?? from.state()
    return concealed().size > 0 ? plainState(state) : state
  }

  function safetyAlarms() {
    const isConcealed = concealed().size > 0
    return (plants().get(plant)?.alarms() ?? [])
      .filter((alarm) => alarm.isForSafety)
      .map((alarm) => plainAlarm(alarm, isConcealed))
  }

  function lessonView(): LessonView {
    const { frozen, numbers, explained } = arrangement()
    return {
      ...about(),
      id,
      numbers,
      explained,
      frozenAt: frozen?.at ?? null,
      setting: settingNow,
      steady: frozen?.steady ?? watch.lamp(),
    }
  }

  function replayOf(from: Scene): ReplayView | null {
    const { frozen } = arrangement()
    return frozen ? frozen.replay : (from.stamp()?.replay ?? null)
  }

  function scene(): Scene | undefined {
    const from = source()
    if (!from) return undefined
    return {
      id: lessonSceneId(id),
      view: viewOf(from),
      value: (index) => valueAt(from, index),
      state: () => stateOf(from),
      alarms: safetyAlarms,
      stamp: () => ({
        plant,
        hidden: [...concealed()],
        replay: replayOf(from),
        lesson: lessonView(),
      }),
    }
  }

  function explain(figure: string): Outcome<ExplainReply> {
    const live = plants().get(plant)
    const shown = scene()
    const whole = live && explainFigure(live.plan, live.evaluator, figure)
    if (!shown || !whole) return noFigure(figure)
    const shownValue = (id: string) => {
      const index = shown.view.figures.findIndex((one) => one.id === id)
      return index < 0 ? NOT_THERE : shown.value(index)
    }
    const isOpen = source()?.id === plant && arrangement().frozen === null && concealed().size === 0
    const { formula, inputs } = whole
    return granted({
      ...whole,
      ...(formula ? { formula: { ...formula, numbers: isOpen ? formula.numbers : null } } : {}),
      value: shownValue(figure),
      inputs: inputs.map((input) => ({ ...input, value: shownValue(input.figure.id) })),
      uncertaintyShares: isOpen ? whole.uncertaintyShares : [],
    })
  }

  return {
    scene,
    source,
    concealed,
    explain,
    take() {
      const from = source()
      if (!from) return
      watch.take(from, from.stamp()?.replay?.at ?? now())
      settingNow = settingIn(from)
    },
    moment() {
      const from = source()
      if (!from) return undefined
      const { frozen } = arrangement()
      const replay = replayOf(from)
      return {
        at: now(),
        shownAt: replay?.at ?? frozen?.at ?? now(),
        shown: frozen ? 'frozen' : replay ? 'replay' : 'live',
        setting: settingIn(from),
        steady: frozen?.steady ?? watch.lamp(),
        view: viewOf(from),
        values: from.view.figures.map((_, index) => valueAt(from, index)),
      }
    },
    freeze() {
      const from = source()
      if (!from) return undefined
      const values = from.view.figures.map(({ id: figure }, index) => [figure, from.value(index)])
      return {
        at: now(),
        values: Object.fromEntries(values) as Frozen['values'],
        state: from.state(),
        replay: from.stamp()?.replay ?? null,
        steady: watch.lamp(),
      }
    },
    bare(figure) {
      const from = source()
      const index = from?.view.figures.findIndex((one) => one.id === figure) ?? -1
      return from && index >= 0 ? bareAt(from, index) : undefined
    },
  }
}

const NOT_THERE: FigureValue = { value: null, at: null, quality: 'bad', reasons: ['not in what is shown'] }
const NOT_KEPT: FigureValue = {
  value: null,
  at: null,
  quality: 'bad',
  reasons: ['was not there when frozen'],
}
