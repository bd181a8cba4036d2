import type { AlarmPriority } from '../../wire/alarm.ts'
import { type Dispatch, deliveryId, dispatchWith, type Message, type Path } from './delivery.ts'
import { localDate, nextLocalTime } from './localTime.ts'
import { alarmMessage, type DispatchContext, digestLine, type Happening } from './message.ts'
import { pathsOf, rulesFor } from './paths.ts'

const MOST_LINES = 60
/** Measurements that are lost together make one message. */
const INPUT_WINDOW_MS = 20_000

/** Low priority goes into the message of the day. */
export function gatherDigest(happening: Happening, context: DispatchContext): Dispatch {
  const { digest } = context.settings
  const { plant, alarm, entry } = happening
  if (!digest || alarm.priority !== 'low' || !['raise', 'return'].includes(entry.event))
    return dispatchWith({})
  const dueAt = nextLocalTime(context.now, plant.timeZone, digest.at)
  const name = `${plant.simulated ? 'SIM ' : ''}${plant.name}`
  const gathering: Gathering = {
    kind: 'digest',
    key: localDate(dueAt, plant.timeZone),
    priority: 'low',
    dueAt,
    paths: pathsOf(digest.to, 'low', context.settings),
    first: { short: `${name}: low-priority alarms of the last day, newest last.`, lines: [] },
    line: digestLine(happening),
  }
  return gather(gathering, happening, context)
}

/**
 * A loss of the measurement behind a high-priority alarm is worth a call; the others are on the page. A broker that
 * goes takes all of them along: that is one message for a plant, not one for each alarm.
 */
export function gatherInputs(
  kind: 'inputLost' | 'inputBack',
  happening: Happening,
  context: DispatchContext,
): Dispatch {
  const { alarm } = happening
  const urgent = { ...happening, alarm: { ...alarm, priority: 'high' as const } }
  const dueAt = (Math.floor(context.now / INPUT_WINDOW_MS) + 1) * INPUT_WINDOW_MS
  const to = [...new Set(rulesFor(urgent, context.settings).flatMap((rule) => rule.to))]
  return gather(
    {
      kind,
      key: String(dueAt),
      priority: 'high',
      dueAt,
      paths: pathsOf(to, 'high', context.settings),
      first: { ...alarmMessage(kind, happening, 0), lines: [] },
      line: kind === 'inputLost' ? `${alarm.name}.` : `Over: ${alarm.name}.`,
    },
    happening,
    context,
  )
}

interface Gathering {
  kind: 'digest' | 'inputLost' | 'inputBack'
  /** One delivery for each plant, key and path. */
  key: string
  priority: AlarmPriority
  dueAt: number
  paths: Path[]
  /** What the message begins with. */
  first: Message
  line: string
}

function gather(gathering: Gathering, { plant }: Happening, { earlier, now }: DispatchContext): Dispatch {
  const { kind, key, priority, dueAt, paths, first, line } = gathering
  const dispatch = dispatchWith({})
  for (const path of paths) {
    const id = deliveryId([kind, plant.id, key, path.recipient, path.channel])
    const known = earlier.waiting(id)
    const message = { short: first.short, ...known?.message, lines: joined(known?.message ?? first, line) }
    const fixed = { id, incident: `${plant.id}/${kind}/${key}`, kind, plant: plant.id, alarm: null, priority }
    if (known) dispatch.amend.push({ ...known, message })
    else dispatch.add.push({ ...fixed, ...path, step: 0, createdAt: now, dueAt, message })
  }
  return dispatch
}

function joined({ lines }: Message, line: string): string[] {
  const all = [...lines, line]
  return all.length > MOST_LINES ? ['… (earlier ones are in the journal)', ...all.slice(-MOST_LINES)] : all
}
