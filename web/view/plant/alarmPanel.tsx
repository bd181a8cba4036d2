import { useEffect, useMemo } from 'preact/hooks'
import type { AlarmView } from '../../../server/wire/alarm.ts'
import { createAlarmRequests } from '../../connect/acknowledge.ts'
import { isDemo } from '../../connect/person.ts'
import { counted, isUnacknowledged, priorityNumbers } from '../../format/words.ts'
import { Panel } from '../parts/panel.tsx'
import { AlarmRow } from './alarmRow.tsx'
import { limitText } from './alarmText.ts'
import type { PlantProps } from './plantProps.ts'

/** Alarms that want somebody, worst first; the quiet ones folded away below. */
export function AlarmPanel(props: PlantProps) {
  const { hold } = props
  const requests = useMemo(() => createAlarmRequests(hold), [hold])
  useEffect(() => requests.close, [requests])
  const alarms = hold.alarms.value
  const shown = alarms.filter(isShown).sort(byUrgency)
  const open = shown.filter((alarm) => isUnacknowledged(alarm.state)).length
  return (
    <Panel
      id="alarms"
      title="Alarms"
      aside={
        <span class={open > 0 ? 'count count-open' : 'count'} data-unacknowledged={open}>
          {open} not acknowledged
        </span>
      }
    >
      {shown.length === 0 && <p class="quiet">No alarm is active.</p>}
      <ul class="alarms">
        {shown.map((alarm) => (
          <AlarmRow key={alarm.id} alarm={alarm} requests={requests} {...props} />
        ))}
      </ul>
      {shown.length > 0 && (
        <p class="hint">
          Acknowledging an alarm does not stop, start or reset anything at the plant.
          {isDemo() && ' Demo without users: what is done here is recorded as “demo (this machine)”.'}
        </p>
      )}
      <QuietAlarms alarms={alarms.filter((alarm) => !isShown(alarm))} hold={hold} />
    </Panel>
  )
}

function isShown(alarm: AlarmView): boolean {
  return alarm.state !== 'normal' || alarm.unknown
}

/** Not acknowledged before acknowledged, then by priority, then newest first. */
function byUrgency(a: AlarmView, b: AlarmView): number {
  return (
    Number(isUnacknowledged(b.state)) - Number(isUnacknowledged(a.state)) ||
    priorityNumbers[a.priority] - priorityNumbers[b.priority] ||
    (b.raisedAt ?? 0) - (a.raisedAt ?? 0)
  )
}

function QuietAlarms({ alarms, hold }: { alarms: AlarmView[]; hold: PlantProps['hold'] }) {
  if (alarms.length === 0) return null
  return (
    <details class="fold">
      <summary>{counted(alarms.length, 'alarm')} watched and normal</summary>
      <ul class="quiet-alarms">
        {alarms.map((alarm) => (
          <li key={alarm.id} data-alarm={alarm.id} data-alarm-state={alarm.state}>
            <span>{alarm.name}</span>
            <span class="number">{limitText(alarm, hold)}</span>
          </li>
        ))}
      </ul>
    </details>
  )
}
