import { useSignal } from '@preact/signals'
import type { AlarmView, JournalEntry } from '../../../server/wire/alarm.ts'
import type { Connection } from '../../connect/connection.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { dayTime, zoneName } from '../../format/time.ts'
import { eventWords } from '../../format/words.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Button } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { alarmNumber, isDiscrete } from './alarmText.ts'

const SHORT = 8
const LONG = 200
const EVERY_MS = 15_000

/** What the alarms did and who answered them, newest first. */
export function JournalPanel({ hold, connection }: { hold: PlantHold; connection: Connection }) {
  const plant = hold.view.id
  const limit = useSignal(SHORT)
  // Read again as soon as any alarm has changed, not only by the clock.
  const changes = hold.alarms.value.map((alarm) => alarm.changedAt).join()
  const keys = [plant, limit.value, connection.joins.value, changes]
  const journal = usePolled(() => http.journal(plant, limit.value), EVERY_MS, keys)
  const entries = journal.reply.value?.entries
  const zone = hold.view.timeZone
  return (
    <Panel id="journal" title="Journal" count={`times in ${zoneName(Date.now(), zone)}`}>
      {journal.error.value && <p class="quiet">Not read: {journal.error.value}</p>}
      {entries?.length === 0 && <p class="quiet">No alarm has changed yet.</p>}
      <ol class="lines small journal">
        {entries?.map((entry) => (
          <JournalLine key={entry.sequence} entry={entry} hold={hold} />
        ))}
      </ol>
      {(entries?.length ?? 0) >= SHORT && (
        <Button
          isSmall
          action="journalLength"
          onClick={() => (limit.value = limit.value === SHORT ? LONG : SHORT)}
        >
          {limit.value === SHORT ? `Show the last ${LONG}` : `Show the last ${SHORT}`}
        </Button>
      )}
    </Panel>
  )
}

/** A state says no more than the alarm's name does. */
function valueText(alarm: AlarmView, { value }: JournalEntry, hold: PlantHold): string {
  if (value === null || isDiscrete(alarm, hold)) return ''
  return `, ${alarmNumber(alarm, value, hold)}`
}

function nameOf(id: string, hold: PlantHold): string {
  return hold.alarms.value.find((alarm) => alarm.id === id)?.name ?? id
}

function JournalLine({ entry, hold }: { entry: JournalEntry; hold: PlantHold }) {
  const alarm = hold.alarms.value.find(({ id }) => id === entry.alarm)
  return (
    <li data-journal={entry.sequence} data-event={entry.event}>
      <time class="number">{dayTime(entry.at, hold.view.timeZone)}</time>
      <span>
        <b>{nameOf(entry.alarm, hold)}</b> {eventWords[entry.event]}
        {alarm && valueText(alarm, entry, hold)}
        {entry.after && `, after ${nameOf(entry.after, hold)}`}
        {entry.by && ` by ${entry.by}`}
        {entry.via && <span class="quiet"> ({entry.via})</span>}
        {entry.until && ` until ${dayTime(entry.until, hold.view.timeZone)}`}
        {entry.note && `: ${entry.note}`}
      </span>
    </li>
  )
}
