import { type FigureNode, nodeOf, type Plan } from '../../derive/plan.ts'
import type { AlarmSetting } from '../kinds/kind.ts'

/** Why one alarm may have brought another. */
export interface CausePath {
  /** For people, e.g. "a machine without its load speeds up". */
  why: string
  /** How long after its cause, or after that was over, a consequence may come: with readings that stop together, at once, with water as long as the cause lasts. */
  pace: 'together' | 'minute' | 'while'
}

/** Undefined where nothing says that the second can follow from the first: that both came at one time is no reason. */
export type CausePathOf = (cause: string, consequence: string) => CausePath | undefined

interface Row extends CausePath {
  from: readonly string[]
  to: readonly string[]
}

/** What follows from what at a small plant, by the families of what is measured (common practice, no source). */
const ROWS: readonly Row[] = [
  {
    from: ['gridConnected', 'breakerClosed', 'loadOn'],
    to: ['speed', 'tripped', 'deflector', 'phaseVoltage', 'lineVoltage', 'dcVoltage'],
    why: 'a machine without its load speeds up',
    pace: 'minute',
  },
  {
    from: ['speed'],
    to: ['tripped', 'deflector', 'phaseVoltage', 'lineVoltage', 'dcVoltage', 'vibration', 'gridConnected'],
    why: 'voltage and protection follow the speed',
    pace: 'minute',
  },
  {
    from: ['tripped', 'emergencyStop', 'deflector'],
    to: [
      'tripped',
      'speed',
      'gridConnected',
      'breakerClosed',
      'activePower',
      'phaseVoltage',
      'inletPressure',
    ],
    why: 'what trips takes load or water away',
    pace: 'minute',
  },
  {
    from: ['tripped', 'emergencyStop', 'gridConnected'],
    to: ['headwaterLevel', 'spillFlow'],
    why: 'a plant that stands takes no water',
    pace: 'while',
  },
  {
    from: ['dumpPower'],
    to: ['speed', 'batteryVoltage', 'dumpTemperature', 'phaseVoltage'],
    why: 'a dump load at its limit holds neither speed nor voltage',
    pace: 'while',
  },
  {
    from: ['batteryVoltage', 'dcVoltage'],
    to: ['batteryVoltage', 'dcVoltage', 'inverterOutputPower', 'dumpTemperature', 'batteryTemperature'],
    why: 'they hang on one bus',
    pace: 'minute',
  },
  {
    from: ['rackDifferential'],
    to: ['headwaterLevel', 'netHead', 'inletPressure', 'activePower', 'discharge'],
    why: 'a blocked rack holds the water back',
    pace: 'while',
  },
  {
    from: ['headwaterLevel', 'netHead'],
    to: ['netHead', 'inletPressure', 'activePower'],
    why: 'less level is less head',
    pace: 'while',
  },
  {
    from: ['discharge'],
    to: ['residualFlow', 'waterVolume', 'headwaterLevel'],
    why: 'what the turbine takes is lacking elsewhere',
    pace: 'while',
  },
  {
    from: ['phaseCurrent'],
    to: ['windingTemperature', 'currentUnbalance'],
    why: 'current heats the winding',
    pace: 'while',
  },
]

/** Instruments that show one and the same thing: which of them told it first says nothing of its cause. */
const SPEEDS = ['speed', 'turbineSpeed', 'frequency']

/** What a figure shows: "speed" for speed and frequency, else the figure without its number. */
export function shownBy(figure: string): string {
  const family = figure.split('.')[0]!
  return SPEEDS.includes(family) ? 'speed' : family
}

/** The ways from alarm to alarm that are stated: by what is computed from what, by the table, and by the groups of the plant file. */
export function causePathsOf(plan: Plan, settings: readonly AlarmSetting[]): CausePathOf {
  const byId = new Map(settings.map((one) => [one.id, one]))
  return (causeId, consequenceId) => {
    const [cause, consequence] = [byId.get(causeId), byId.get(consequenceId)]
    if (!cause || !consequence) return undefined
    const [isLoss, isToo] = [cause.kind.lossOf !== undefined, consequence.kind.lossOf !== undefined]
    if (isLoss !== isToo) return undefined
    if (isLoss)
      return { why: 'both stopped at one moment, as when their sender falls silent', pace: 'together' }
    return pathBetween(plan, cause, consequence)
  }
}

function pathBetween(plan: Plan, cause: AlarmSetting, consequence: AlarmSetting): CausePath | undefined {
  const [from, to] = [shownBy(watchedBy(cause)), shownBy(watchedBy(consequence))]
  if (from === to && from !== '') return { why: 'both watch one thing', pace: 'minute' }
  const row = ROWS.find((one) => one.from.includes(from) && one.to.includes(to))
  if (row) return row
  if (isComputedFrom(plan, consequence.figure, cause.figure))
    return { why: 'the second is computed from the first', pace: 'minute' }
  const isGroup = cause.group !== null && cause.group === consequence.group
  return isGroup ? { why: `both are of the group "${cause.group}"`, pace: 'minute' } : undefined
}

/** Alarms on counters have no figure; what they count is what they watch. */
function watchedBy({ figure, uses }: AlarmSetting): string {
  return figure === '' ? (uses[0] ?? '') : figure
}

function isComputedFrom(plan: Plan, figure: string, input: string): boolean {
  const sought = plan.indexOf.get(input)
  const start = plan.indexOf.get(figure)
  return sought !== undefined && start !== undefined && sourcesOf(plan, start).has(sought)
}

/** All figures that this one is computed from. */
function sourcesOf({ nodes }: Plan, start: number): Set<number> {
  const found = new Set<number>()
  const open = [start]
  for (let next = open.pop(); next !== undefined; next = open.pop())
    for (const input of inputsOf(nodes[next]!)) {
      if (found.has(input)) continue
      found.add(input)
      open.push(input)
    }
  return found
}

function inputsOf(node: FigureNode): readonly number[] {
  return node.kind === 'measured' ? [] : node.inputs
}

/** Longest time [ms] between two readings of what a figure comes from; 0 where all of it is sent on change. */
export function periodOf(plan: Plan, figure: string): number {
  const node = nodeOf(plan, figure)
  if (!node) return 0
  const periods = [node.index, ...sourcesOf(plan, node.index)].map((i) => {
    const one = plan.nodes[i]!
    return one.kind === 'measured' && one.instrument.periodic ? one.instrument.periodMs : 0
  })
  return Math.max(...periods)
}
