import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parse } from 'yaml'
import type { EarlierMessages } from '../../server/alarms/notify/delivery.ts'
import type { Happening } from '../../server/alarms/notify/message.ts'
import { type NotifySettings, notifyFileSchema } from '../../server/alarms/notify/settings.ts'
import { openState, type State } from '../../server/state/openState.ts'
import type { AlarmPriority, AlarmView } from '../../server/wire/alarm.ts'

/** Wednesday 25 November 2026, 14:00:00 GMT. */
export const WEDNESDAY = Date.UTC(2026, 10, 25, 14)

/** A state file in a folder of its own. */
export function scratchState(): State {
  return openState(mkdtempSync(join(tmpdir(), 'headrace-notify-')))
}

/** Settings from the text of a notification file; throws with the faults, since a test's own file must be right. */
export function settingsOf(yaml: string): NotifySettings {
  return notifyFileSchema.parse(parse(`headraceNotify: 1\ntimeZone: Europe/London\n${yaml}`))
}

/** Three people with e-mail, a ladder of two rungs. */
export const THREE_PEOPLE = `
channels: [{ id: mail, kind: email, host: 127.0.0.1, from: headrace@plant.example, security: none }]
recipients:
  - { id: anna, name: Anna, by: [{ channel: mail, to: anna@plant.example }] }
  - { id: bert, name: Bert, by: [{ channel: mail, to: bert@plant.example }] }
  - { id: cleo, name: Cleo, by: [{ channel: mail, to: cleo@plant.example }] }
rules:
  - priorities: [high, medium]
    to: [anna]
    ladder: [{ after: 10 min, to: [bert] }, { after: 20 min, to: [bert, cleo] }]
`

export function nothingEarlier(more: Partial<EarlierMessages> = {}): EarlierMessages {
  return {
    waiting: () => undefined,
    countSince: () => 0,
    ofIncident: () => [],
    ...more,
  }
}

export interface HappeningWish {
  event?: Happening['entry']['event']
  from?: Happening['entry']['from']
  priority?: AlarmPriority
  at?: number
  alarm?: Partial<AlarmView>
  timeZone?: string
}

/** An over-speed at the fictional mill, raised unless the wish says otherwise. */
export function happening(wish: HappeningWish = {}): Happening {
  const {
    event = 'raise',
    from = 'normal',
    priority = 'high',
    at = WEDNESDAY,
    timeZone = 'Europe/London',
  } = wish
  const alarm: AlarmView = {
    id: 'over',
    name: 'Over-speed',
    priority,
    state: 'unacknowledged',
    active: true,
    unknown: false,
    figure: 'speed',
    limit: 172.8,
    value: 185,
    peak: 185,
    peakAt: at,
    quality: 'good',
    raisedAt: at,
    changedAt: at,
    acknowledgedAt: null,
    acknowledgedBy: null,
    entry: 'alarm',
    kind: 'overSpeed',
    condition: 'at or above 110 % of rated',
    group: null,
    after: null,
    because: null,
    returnedAt: null,
    episode: null,
    onset: null,
    shelvedUntil: null,
    withheld: null,
    longestShelfMs: 0,
    hasAmount: true,
    tellsOfLoss: false,
    isForSafety: true,
    latching: false,
    simulated: false,
    action: 'Shut the inlet valve by hand.',
    ...wish.alarm,
  }
  return {
    plant: { id: 'mill', name: 'Upper mill', timeZone, simulated: false },
    alarm,
    episode: [alarm],
    entry: { sequence: 1, at, event, from, to: event === 'raise' ? 'unacknowledged' : 'normal' },
    value: '1770 min⁻¹',
    limit: '1650 min⁻¹',
    machine: 'Running: 513 W at the generator.',
    before: undefined,
  }
}
