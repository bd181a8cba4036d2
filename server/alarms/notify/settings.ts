import { z } from 'zod'
import { duration, idField, ratio, timeZoneField } from '../../plant/fields.ts'
import { webAddress } from './channels/httpPost.ts'
import { channelFields } from './channels/index.ts'
import type { TimeOfDay, Weekday } from './localTime.ts'

/**
 * The notification file: who is told of what, over which channel, how soon. No secrets: passwords and keys come
 * from the environment or from a file of their own (notifyFile.ts).
 */

const MINUTE_MS = 60_000
const HOUR_MS = 3_600_000
const WEEKDAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'] as const

const timeOfDay = z.string().transform((text, context): TimeOfDay => {
  const match = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(text)
  if (match) return { hour: Number(match[1]), minute: Number(match[2]) }
  context.addIssue({ code: 'custom', input: text, message: 'expected a time of day such as "07:30"' })
  return z.NEVER
})

const priority = z.enum(['high', 'medium', 'low'])
const recipient = z.strictObject({
  id: idField,
  name: z.string().min(1).max(60),
  by: z
    .array(
      z.strictObject({
        channel: idField,
        /** E-mail address; other channels need none. */
        to: z.email({ error: 'expected an e-mail address' }).optional(),
        priorities: z.array(priority).min(1).optional(),
      }),
    )
    .min(1)
    .max(8),
})

const rule = z.strictObject({
  /** Left out: all. */
  plants: z.array(idField).min(1).optional(),
  alarms: z.array(idField).min(1).optional(),
  priorities: z.array(priority).min(1).default(['high', 'medium']),
  to: z.array(idField).min(1).max(50),
  /** Who is told when nobody has acknowledged, and how long after the first message. */
  ladder: z
    .array(z.strictObject({ after: duration(), to: z.array(idField).min(1).max(50) }))
    .max(10)
    .default([]),
  /** In the time zone of the plant. High priority is never held back. */
  quietHours: z.strictObject({ from: timeOfDay, to: timeOfDay }).optional(),
  /** Acknowledged and still active after this time: a reminder. */
  remindAfter: duration().default(30 * MINUTE_MS),
  /** An acknowledged alarm is told again, ladder and all, with each further share of the limit that it passes. */
  worseBy: ratio()
    .refine((share) => share > 0, { error: 'expected a share above zero such as "10 %"' })
    .default(0.1),
  returned: z.boolean().default(true),
})

export const notifyFileSchema = z
  .strictObject({
    headraceNotify: z.literal(1, { error: 'expected 1, the version of the notification file' }),
    /** For what belongs to no plant: the weekly test. */
    timeZone: timeZoneField,
    channels: z.array(channelFields).max(20).default([]),
    recipients: z.array(recipient).max(50).default([]),
    rules: z.array(rule).max(100).default([]),
    /** Low priority that no rule sends at once: one message for each local day on which there was something. */
    digest: z.strictObject({ at: timeOfDay, to: z.array(idField).min(1).max(50) }).optional(),
    /** Most messages below high priority for one recipient over one channel; the rest is counted in one message. */
    rate: z
      .strictObject({ most: z.int().min(1).max(1000), per: duration() })
      .default({ most: 20, per: HOUR_MS }),
    weeklyTest: z
      .strictObject({
        day: z.enum(WEEKDAYS).transform((day) => (WEEKDAYS.indexOf(day) + 1) as Weekday),
        at: timeOfDay,
        /** Left out: every recipient. */
        to: z.array(idField).min(1).optional(),
        answerWithin: duration().default(2 * HOUR_MS),
      })
      .optional(),
    /** Sign of life of this server, for a watcher that raises the alarm when it stays away. */
    heartbeat: z
      .union(
        [
          z.strictObject({ url: webAddress, period: duration().default(MINUTE_MS) }),
          z.strictObject({ topic: z.string().min(1).max(200), period: duration().default(MINUTE_MS) }),
        ],
        { error: 'expected a mapping with "url" or "topic", and "period"' },
      )
      .optional(),
    /** How long the link in a message can acknowledge. */
    linkValid: duration().default(24 * HOUR_MS),
  })
  .superRefine((file, context) => {
    for (const { path, message, input } of crossFaults(file))
      context.addIssue({ code: 'custom', path, message, input })
  })

export type NotifySettings = z.output<typeof notifyFileSchema>
type RecipientSetting = NotifySettings['recipients'][number]
export type RuleSetting = NotifySettings['rules'][number]

/** Nobody is told of anything. */
export const NO_SETTINGS: NotifySettings = notifyFileSchema.parse({ headraceNotify: 1, timeZone: 'UTC' })

interface CrossFault {
  path: (string | number)[]
  message: string
  input: unknown
}

function fault(path: CrossFault['path'], message: string, input: unknown): CrossFault {
  return { path, message, input }
}

/** Names that lead nowhere, names given twice, and addresses that are missing. */
function crossFaults(file: {
  channels: { id: string; kind: string }[]
  recipients: RecipientSetting[]
  rules: RuleSetting[]
  digest?: { to: string[] } | undefined
  weeklyTest?: { to?: string[] | undefined } | undefined
}): CrossFault[] {
  const people = file.recipients.map((one) => one.id)
  const known = (ids: readonly string[] | undefined, path: CrossFault['path']) =>
    (ids ?? []).flatMap((id, i) =>
      people.includes(id)
        ? []
        : [fault([...path, i], `expected one of the recipients ${people.join(', ')}`, id)],
    )
  return [
    ...twins(file.channels, 'channels'),
    ...twins(file.recipients, 'recipients'),
    ...file.recipients.flatMap((one, i) => pathFaults(one, i, file.channels)),
    ...file.rules.flatMap((one, i) => [
      ...known(one.to, ['rules', i, 'to']),
      ...one.ladder.flatMap((rung, n) => known(rung.to, ['rules', i, 'ladder', n, 'to'])),
    ]),
    ...known(file.digest?.to, ['digest', 'to']),
    ...known(file.weeklyTest?.to, ['weeklyTest', 'to']),
  ]
}

function twins(list: readonly { id: string }[], name: string): CrossFault[] {
  return list.flatMap(({ id }, i) =>
    list.findIndex((other) => other.id === id) < i
      ? [fault([name, i, 'id'], 'expected an id that is not used above', id)]
      : [],
  )
}

function pathFaults(
  { by }: RecipientSetting,
  index: number,
  channels: { id: string; kind: string }[],
): CrossFault[] {
  return by.flatMap((way, n): CrossFault[] => {
    const path = ['recipients', index, 'by', n]
    const found = channels.find((one) => one.id === way.channel)
    if (!found) {
      const names = channels.map((one) => one.id).join(', ')
      return [fault([...path, 'channel'], `expected one of the channels ${names}`, way.channel)]
    }
    if (by.findIndex((other) => other.channel === way.channel) < n)
      return [fault([...path, 'channel'], 'expected each channel once for a recipient', way.channel)]
    if (found.kind === 'email' && way.to === undefined)
      return [fault([...path, 'to'], 'expected an e-mail address', way.to)]
    return []
  })
}
