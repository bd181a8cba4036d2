import { type Delivery, deliveryId, dispatchWith, type Message, type Path } from './delivery.ts'
import { lastWeekly, localMoment, nextWeekly } from './localTime.ts'
import type { NotifyMemory } from './notifyMemory.ts'
import type { Outbox } from './outbox.ts'
import { allPaths } from './paths.ts'
import type { NotifySettings } from './settings.ts'

/** Sends the test messages that people have to confirm, and tells everybody which ones nobody confirmed. */
export interface WeeklyTest {
  /** Call every few seconds. */
  tick(now: number): void
  nextAt(now: number): number | null
  /** A test at once, to one recipient or to all. @returns how many messages there are. */
  sendNow(now: number, recipient?: string): number
}

export interface WeeklyTestOptions {
  settings: NotifySettings
  outbox: Outbox
  memory: NotifyMemory
  /** False for a path that nobody can confirm: its answer is proof enough, or there is none. */
  needsPerson: (path: Path) => boolean
}

/**
 * Local time counts, so it is 9 o'clock in summer and in winter. A test that fell into a time when the server was
 * down is sent once when it is up again, however many weeks there were.
 */
export function createWeeklyTest(options: WeeklyTestOptions): WeeklyTest {
  const { settings, outbox, memory } = options
  const { weeklyTest, timeZone } = settings
  const day = weeklyTest && { weekday: weeklyTest.day, time: weeklyTest.at }

  function tick(now: number): void {
    if (!weeklyTest || !day) return
    const scheduled = lastWeekly(now, timeZone, day)
    const last = memory.get<number>('testAt')
    // Before the very first test nothing was missed: it begins with the next one.
    if (last === undefined) memory.set('testAt', scheduled)
    else if (scheduled > last) {
      // First the messages, then the note that they are out: killed in between, the same ones are made again.
      send(now, { incident: testIncident(scheduled), to: weeklyTest.to })
      memory.set('testSentAt', now)
      memory.set('testAt', scheduled)
    }
    reportUnanswered(now, memory.get<number>('testAt')!)
  }

  function send(now: number, { incident, to }: { incident: string; to: string[] | undefined }): number {
    const paths = allPaths(settings).filter((path) => to?.includes(path.recipient) ?? true)
    const message = testMessage(now, timeZone)
    sayTo(paths, now, { incident, kind: 'test', priority: 'high', message })
    return paths.length
  }

  /** One message over each of these paths, at once. */
  function sayTo(
    paths: readonly Path[],
    now: number,
    what: Pick<Delivery, 'incident' | 'kind' | 'priority' | 'message'>,
  ): void {
    const add = paths.map((path) => ({
      id: deliveryId([what.incident, path.recipient, path.channel]),
      ...what,
      ...path,
      plant: null,
      alarm: null,
      step: 0,
      createdAt: now,
      dueAt: now,
    }))
    outbox.put(dispatchWith({ add }))
  }

  function reportUnanswered(now: number, scheduled: number): void {
    const sentAt = memory.get<number>('testSentAt')
    if (sentAt === undefined || now < sentAt + weeklyTest!.answerWithin) return
    if (memory.get<number>('testReportedAt') === scheduled) return
    const silent = outbox.table.unanswered(testIncident(scheduled)).filter(options.needsPerson)
    if (silent.length > 0) report(now, scheduled, silent)
    memory.set('testReportedAt', scheduled)
  }

  function report(now: number, scheduled: number, silent: readonly Path[]): void {
    const names = silent.map((path) => `${nameOf(path.recipient)} by ${path.channel}`)
    const message: Message = {
      short: `${names.length} test ${names.length === 1 ? 'message was' : 'messages were'} not confirmed in time. These ways may not work in an emergency; see below.`,
      lines: names.map((name) => `Not confirmed: ${name}`),
    }
    const incident = `${testIncident(scheduled)}/report`
    sayTo(allPaths(settings), now, { incident, kind: 'testUnanswered', priority: 'medium', message })
  }

  function nameOf(id: string): string {
    return settings.recipients.find((one) => one.id === id)?.name ?? id
  }

  return {
    tick,
    nextAt: (now) => (day ? nextWeekly(now, timeZone, day) : null),
    sendNow: (now, recipient) =>
      send(now, { incident: `test/now/${now}`, to: recipient === undefined ? undefined : [recipient] }),
  }
}

function testIncident(scheduled: number): string {
  return `test/${scheduled}`
}

function testMessage(now: number, zone: string): Message {
  return {
    short:
      'TEST of the alarm messages: nothing is wrong. Please confirm with the link that this reached you.',
    lines: [
      `Sent: ${localMoment(now, zone)}`,
      'A way that nobody confirms is reported to everybody: an alarm over it might reach no one.',
    ],
  }
}
