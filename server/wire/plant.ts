import { z } from 'zod'
import { agreementLine } from './agreement.ts'
import { alarmView, episodeView } from './alarmReplies.ts'
import { type FigureDescription, figureDescription, figureValue, type MissingFigure } from './figure.ts'
import { sceneView } from './scene.ts'
import { flag, number, objectOf, text, time, timeOrNull } from './shape.ts'

export const stateView = z
  .object({
    state: z
      .enum([
        'generating',
        'starting',
        'noLoad',
        'runDown',
        'motoring',
        'stopped',
        'overSpeed',
        'turning',
        'unknown',
      ])
      .describe(
        'What the machine is doing, in one word that can be said on the telephone: noLoad is turning without power, motoring ' +
          'is power going into it, stopped is a shaft known to stand still, turning says that nobody knows the power',
      ),
    sentence: text.describe('E.g. "Making 513 W from 847 W of water power."'),
    since: timeOrNull.describe('Null when not known'),
    agreement: agreementLine.describe('Whether the instruments agree with each other'),
  })
  .meta({ id: 'State' })
export type StateView = z.output<typeof stateView>
export type MachineState = StateView['state']

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
  /** What the plant file says that can hardly be meant, and what it leaves out. */
  doubts: PlantDoubt[]
  /** Ids of the figures to show first, most telling first. */
  keyFigures: string[]
  /** Ids of the figures to draw as trends. */
  trends: string[]
  path: PathNode[]
  controls: SimulatorControl[]
  cautions: Caution[]
}

export const plantDoubt = z.object({
  kind: z
    .enum(['doubtful', 'missing', 'seen'])
    .describe(
      'doubtful: can hardly be meant. missing: is not there, and something is assumed in its place. seen: what arrives says otherwise',
    ),
  path: text.describe('E.g. "generator.polePairs"'),
  line: number.nullable(),
  received: text,
  expected: text,
})
/** A place in the plant file, what stands there, and what would fit. */
export type PlantDoubt = z.output<typeof plantDoubt>

export interface Caution {
  signal: 'DANGER' | 'WARNING' | 'CAUTION' | 'NOTICE'
  text: string
}

export const danger = z
  .object({
    kind: z.enum(['overSpeed', 'tripped']),
    speed: number.nullable().describe('Share of rated speed now; null where nobody can say'),
    peak: number.nullable().describe('Largest share of rated speed since it began'),
    since: timeOrNull,
    by: text.describe('What came first, as the alarm is named'),
    episode: episodeView.nullable().describe('With all that followed; null where no alarm tells of it'),
    action: text.nullable().describe('What to do'),
    open: z.array(text).describe('Ids of its alarms that nobody has acknowledged'),
    isLatched: flag.describe('A tripped protection or a latched alarm waits for somebody'),
  })
  .meta({ id: 'Danger' })
/** What has to be in sight on every screen. */
export type Danger = z.output<typeof danger>

export const plantSummary = z.object({
  id: text,
  name: text,
  summary: text,
  simulated: flag,
  state: stateView,
  headline: z
    .object({ figure: figureDescription, value: figureValue })
    .nullable()
    .describe('The power that tells most, as it is now'),
  unacknowledged: number,
  active: number,
  danger: danger.nullable(),
  lastReceivedAt: timeOrNull,
})
export type PlantSummary = z.output<typeof plantSummary>

export const sourceView = z.object({
  connected: flag,
  name: text.describe('E.g. "embedded broker on 127.0.0.1:1883"; no credentials'),
  since: timeOrNull,
  detail: text.exactOptional(),
})
/** Whether measurements can reach the server at all. */
export type SourceView = z.output<typeof sourceView>

const healthLine = z.object({
  faults: number,
  unmapped: number,
  storing: flag.describe('False while measurements are not being stored'),
  storingDetail: text.exactOptional(),
  alertPath: text
    .exactOptional()
    .describe('A sentence where it is not proven that alarm messages reach people'),
})
/** The few health facts that belong on every screen. */
export type HealthLine = z.output<typeof healthLine>

export const snapshot = z
  .object({
    sequence: number,
    at: time,
    plant: objectOf<PlantView>('What does not change: figures, the path of the power, cautions'),
    state: stateView,
    values: z.array(figureValue).describe('In the order of plant.figures'),
    alarms: z.array(alarmView),
    source: sourceView,
    health: healthLine,
    scene: sceneView.exactOptional().describe('Only where this is not the plant as it is now'),
  })
  .meta({ id: 'Snapshot' })
/** Everything a screen needs on join; frames then carry only changes. */
export type Snapshot = z.output<typeof snapshot>
