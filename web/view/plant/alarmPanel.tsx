import { useEffect, useMemo } from 'preact/hooks'
import { type AlarmView, isUnacknowledged } from '../../../server/wire/alarm.ts'
import { createAlarmRequests } from '../../connect/acknowledge.ts'
import { isDemo } from '../../connect/person.ts'
import { counted } from '../../format/words.ts'
import { useLastKnown } from '../parts/ground.tsx'
import { Panel } from '../parts/panel.tsx'
import { SoundButton } from '../parts/soundButton.tsx'
import { AlarmEvent } from './alarmEvent.tsx'
import { groupAlarms, listEvents } from './alarmGroups.ts'
import { type AlarmListProps, AlarmRow } from './alarmRow.tsx'
import { limitText } from './alarmText.ts'
import type { PlantProps } from './plantProps.ts'

/** Alarms that want somebody, worst first; what is off the list is counted; the quiet ones are folded away below. */
export function AlarmPanel(props: PlantProps) {
  const { hold } = props
  const requests = useMemo(() => createAlarmRequests(hold), [hold])
  useEffect(() => requests.close, [requests])
  const groups = groupAlarms(hold.alarms.value)
  const list = { ...props, requests }
  const open = groups.listed.filter((alarm) => isUnacknowledged(alarm.state)).length
  return (
    <Panel id="alarms" title="Alarms" aside={<OpenCount open={open} />}>
      {groups.flood && <FloodLine flood={groups.flood} />}
      {groups.listed.length === 0 && <NoAlarm />}
      <ul class="alarms">
        {listEvents(groups.listed, hold.alarms.value).map((event) => (
          <AlarmEvent key={event.episode?.id ?? event.heads[0]?.id} event={event} list={list} />
        ))}
      </ul>
      {groups.listed.length > 0 && (
        <p class="hint">
          Acknowledging an alarm does not stop, start or reset anything at the plant.
          {isDemo() && ' Demo without users: what is done here is recorded as “demo (this machine)”.'}
        </p>
      )}
      <BlindAlarms alarms={groups.blind} />
      <FoldedAlarms
        id="withheld"
        alarms={groups.withheld}
        words="shelved or out of service"
        list={list}
        isOpen
      />
      <FoldedAlarms
        id="notices"
        alarms={groups.notices}
        words="for the next visit"
        list={list}
        noun="notice"
      />
      <QuietAlarms alarms={groups.quiet} list={list} />
    </Panel>
  )
}

function OpenCount({ open }: { open: number }) {
  return (
    <>
      <span class={open > 0 ? 'count count-open' : 'count'} data-unacknowledged={open}>
        {open} not acknowledged
      </span>
      <SoundButton />
    </>
  )
}

/** Silence is no good news. */
function NoAlarm() {
  const at = useLastKnown()
  return (
    <p class="quiet" data-no-alarm={at === null}>
      {at === null ? 'No alarm is active.' : `Nobody can say whether an alarm is active. At ${at} none was.`}
    </p>
  )
}

function FloodLine({ flood }: { flood: AlarmView }) {
  return (
    <p class="flood" role="status" data-flood>
      <b>Alarm flood:</b> {flood.detail}. Look at high priority first, and at what came first.
    </p>
  )
}

/** Never counted as normal: nobody can say. The lost inputs themselves stand in the list above. */
function BlindAlarms({ alarms }: { alarms: AlarmView[] }) {
  if (alarms.length === 0) return null
  return (
    <p class="blind" data-blind={alarms.length}>
      <b>{counted(alarms.length, 'alarm')} cannot be judged</b>, because an input is missing or bad:{' '}
      {alarms.map((alarm) => alarm.name).join(', ')}.
    </p>
  )
}

interface FoldedProps {
  id: string
  alarms: AlarmView[]
  words: string
  list: AlarmListProps
  noun?: string
  isOpen?: boolean
}

function FoldedAlarms({ id, alarms, words, list, noun = 'alarm', isOpen = false }: FoldedProps) {
  if (alarms.length === 0) return null
  return (
    <details class="fold" data-alarms={id} open={isOpen}>
      <summary>
        <b>{counted(alarms.length, noun)}</b> {words}
      </summary>
      <ul class="alarms">
        {alarms.map((alarm) => (
          <AlarmRow key={alarm.id} alarm={alarm} {...list} />
        ))}
      </ul>
    </details>
  )
}

function QuietAlarms({ alarms, list }: { alarms: AlarmView[]; list: AlarmListProps }) {
  if (alarms.length === 0) return null
  const suppressed = alarms.filter((alarm) => alarm.state === 'suppressed').length
  return (
    <details class="fold" data-alarms="quiet">
      <summary>
        {counted(alarms.length, 'alarm')} watched and normal
        {suppressed > 0 && `, ${suppressed} of them suppressed by design`}
      </summary>
      <ul class="quiet-alarms">
        {alarms.map((alarm) => (
          <li key={alarm.id} data-alarm={alarm.id} data-alarm-state={alarm.state}>
            <span>
              {alarm.name}
              {alarm.state === 'suppressed' && <span class="quiet"> suppressed</span>}
            </span>
            <span class="number">{limitText(alarm, list.hold)}</span>
          </li>
        ))}
      </ul>
    </details>
  )
}
