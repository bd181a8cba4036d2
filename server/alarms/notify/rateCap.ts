import { type Delivery, type Dispatch, deliveryId, dispatchWith, type Message, pathId } from './delivery.ts'
import { localClock } from './localTime.ts'
import { cut, type DispatchContext, SHORT_LIMIT } from './message.ts'

const MOST_NAMED = 20

/**
 * Leaves out what is beyond the cap of its path and says so in one message at the end of the window. High priority
 * passes always and is not counted.
 */
export function capRate(wanted: readonly Delivery[], context: DispatchContext & { zone: string }): Dispatch {
  const { most, per } = context.settings.rate
  const windowStart = Math.floor(context.now / per) * per
  const dispatch = dispatchWith({})
  const counts = new Map<string, number>()
  for (const delivery of wanted) {
    const path = pathId(delivery)
    const count = counts.get(path) ?? context.earlier.countSince(delivery, windowStart)
    if (delivery.priority === 'high' || count < most) {
      dispatch.add.push(delivery)
      if (delivery.priority !== 'high') counts.set(path, count + 1)
    } else suppress(dispatch, delivery, { ...context, windowStart, windowEnd: windowStart + per })
  }
  return dispatch
}

interface Window extends DispatchContext {
  zone: string
  windowStart: number
  windowEnd: number
}

/** "7 more messages were left out": one per path and window, with a count that goes up. */
function suppress(dispatch: Dispatch, delivery: Delivery, window: Window): void {
  // The ladder of a message that was left out is left out with it, without being counted twice.
  if (delivery.step > 0) return
  const id = deliveryId(['suppressed', pathId(delivery), String(window.windowStart)])
  const isSame = (one: Delivery) => one.id === id
  const known = dispatch.add.find(isSame) ?? dispatch.amend.find(isSame) ?? window.earlier.waiting(id)
  const message = countMessage(delivery, known?.message, window)
  if (known) {
    const amended = { ...known, message }
    if (dispatch.add.some(isSame)) dispatch.add = dispatch.add.map((one) => (isSame(one) ? amended : one))
    else dispatch.amend = [...dispatch.amend.filter((one) => !isSame(one)), amended]
    return
  }
  dispatch.add.push({
    ...delivery,
    id,
    incident: `suppressed/${pathId(delivery)}/${window.windowStart}`,
    kind: 'suppressed',
    plant: null,
    alarm: null,
    createdAt: window.now,
    dueAt: window.windowEnd,
    message,
  })
}

function countMessage(delivery: Delivery, before: Message | undefined, window: Window): Message {
  const count = 1 + Number(/^(\d+) /.exec(before?.short ?? '0 ')?.[1] ?? 0)
  const from = localClock(window.windowStart, window.zone)
  const short = `${count} ${count === 1 ? 'message was' : 'messages were'} suppressed since ${from}: more than ${window.settings.rate.most} came. Look at the page.`
  const lines = before?.lines ?? []
  return {
    short: cut(short, SHORT_LIMIT),
    lines: lines.length < MOST_NAMED ? [...lines, delivery.message.short] : lines,
  }
}
