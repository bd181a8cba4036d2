import type { AlarmView } from './alarm.ts'
import type { BalanceLine } from './balance.ts'
import type { FigureDescription, FigureValue, MissingFigure, UtcMs } from './figure.ts'
import type { SceneView } from './scene.ts'

/** What the machine is doing, in one word that can be said on the telephone. */
export type MachineState = 'running' | 'stopped' | 'overSpeed' | 'standstill' | 'unknown'

export interface StateView {
  state: MachineState
  /** A sentence in plain words, e.g. "Running: 847 W of water power, 513 W at the generator." */
  sentence: string
  /** Since when; null when not known. */
  since: UtcMs | null
  /** Whether the instruments agree with each other. */
  balance: BalanceLine
}

/** One place on the path that the power takes from the water to the loads. */
export interface PathNode {
  id: string
  name: string
  /** Figure with the power at this place [W]; null where this plant does not know it. */
  figure: string | null
  /** Figures worth reading beside it. */
  details: string[]
  /** Id of the place that the power comes from; null at the beginning. Several places may share one. */
  from: string | null
  /** Figure with what is lost on the way from there; null where this plant does not know it. */
  loss: string | null
}

/** A thing the page may change at a simulated plant. Real plants have none. */
export interface SimulatorControl {
  id: string
  name: string
  kind: 'switch' | 'slider' | 'choice'
  /** Slider limits and step in `unit`. */
  min?: number
  max?: number
  step?: number
  unit?: string
  choices?: { id: string; name: string }[]
  /** Figure that shows the present setting, if one does. */
  figure?: string
  initial: number | string | boolean
}

export interface PlantView {
  id: string
  name: string
  summary: string
  simulated: boolean
  timeZone: string
  figures: FigureDescription[]
  missing: MissingFigure[]
  /** Ids of the figures to show first, most telling first. */
  keyFigures: string[]
  /** Ids of the figures to draw as trends. */
  trends: string[]
  path: PathNode[]
  controls: SimulatorControl[]
  cautions: Caution[]
}

export interface Caution {
  signal: 'DANGER' | 'WARNING' | 'CAUTION' | 'NOTICE'
  text: string
}

export interface PlantSummary {
  id: string
  name: string
  summary: string
  simulated: boolean
  state: StateView
  /** Figure id of the headline power and its value now. */
  headline: { figure: FigureDescription; value: FigureValue } | null
  unacknowledged: number
  active: number
  lastReceivedAt: UtcMs | null
}

/** Everything a screen needs on join; frames then carry only changes. */
export interface Snapshot {
  sequence: number
  at: UtcMs
  plant: PlantView
  state: StateView
  /** Same order as `plant.figures`. */
  values: FigureValue[]
  alarms: AlarmView[]
  source: SourceView
  health: HealthLine
  /** Only where this is not the plant as it is now. */
  scene?: SceneView
}

/** Whether measurements can reach the server at all. */
export interface SourceView {
  connected: boolean
  /** e.g. "embedded broker on 127.0.0.1:1883" or "mqtt://broker.example:1883". No credentials. */
  name: string
  since: UtcMs | null
  detail?: string
}

/** The few health facts that belong on every screen. */
export interface HealthLine {
  faults: number
  unmapped: number
  /** False while measurements are not being stored. */
  storing: boolean
  storingDetail?: string
  /** A sentence where it is not proven that alarm messages reach people. */
  alertPath?: string
}
