import type { ComponentChildren } from 'preact'
import { useEffect, useMemo } from 'preact/hooks'
import { dangerOf } from '../../../server/wire/danger.ts'
import type { Danger, PlantSummary } from '../../../server/wire/plant.ts'
import { createAlarmRequests } from '../../connect/acknowledge.ts'
import type { Connection } from '../../connect/connection.ts'
import { may } from '../../connect/person.ts'
import type { Polled } from '../../connect/poll.ts'
import { durationWords } from '../../format/age.ts'
import { clockTime, localZone } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { address } from '../screens.ts'
import { Button } from './button.tsx'
import { Sign, SimStamp } from './panel.tsx'
import { SilenceButton } from './soundButton.tsx'

export interface StripProps {
  connection: Connection
  plants: Polled<PlantSummary[]>
}

/** Whether an over-speed or a trip waits for somebody, at any plant. */
export function isDangerOpen({ connection, plants }: StripProps): boolean {
  const hold = connection.hold.value
  const own = hold && !hold.scene.value?.replay ? dangerNow(hold) : null
  const all = [own, ...(plants.reply.value ?? []).map(({ danger }) => danger)]
  return all.some((danger) => danger !== null && danger.open.length > 0)
}

/** What is tripped or turns too fast, on every screen: the plant in view as it is now, the others as last heard. */
export function DangerStrips({ connection, plants }: StripProps) {
  const hold = connection.hold.value
  const isOwn = hold !== null && !hold.scene.value?.replay
  const { reply, error, answeredAt } = plants
  const others = (reply.value ?? []).filter(({ id, danger }) => danger && !(isOwn && hold.view.id === id))
  const at = error.value && answeredAt.value !== null ? clockTime(answeredAt.value, localZone) : null
  return (
    <>
      {isOwn && <OwnStrip hold={hold} connection={connection} />}
      {others.map(({ id, name, simulated, danger }) => (
        <Strip key={id} danger={danger!} name={name} isSimulated={simulated} at={at} now={Date.now()}>
          {danger!.open.length > 0 && <SilenceButton />}
          <a class="press" href={address({ screen: 'plant', plant: id })}>
            Go there
          </a>
        </Strip>
      ))}
    </>
  )
}

interface OwnProps {
  hold: PlantHold
  connection: Connection
}

export function OwnStrip({ hold, connection }: OwnProps) {
  const requests = useMemo(() => createAlarmRequests(hold), [hold])
  useEffect(() => requests.close, [requests])
  const danger = dangerNow(hold)
  if (!danger) return null
  const { isWithheld, knownAt, now } = connection
  const at = isWithheld.value && knownAt.value !== null ? clockTime(knownAt.value, hold.view.timeZone) : null
  const acknowledge = () => {
    if (danger.episode) void requests.sendAll(danger.episode)
    else for (const alarm of danger.open) void requests.send(alarm, 'acknowledge')
  }
  return (
    <Strip danger={danger} name={hold.view.name} isSimulated={hold.view.simulated} at={at} now={now.value}>
      {danger.open.length > 0 && <SilenceButton />}
      {danger.open.length > 0 && may('acknowledge') && (
        <Button action="acknowledge-danger" onClick={acknowledge}>
          Acknowledge{danger.open.length > 1 && ` all ${danger.open.length}`}
        </Button>
      )}
    </Strip>
  )
}

export function dangerNow({ state, alarms, figures }: PlantHold): Danger | null {
  return dangerOf({
    state: state.value,
    alarms: alarms.value,
    figures: figures.map(({ description, value }) => ({ description, now: () => value.value })),
  })
}

interface OneProps {
  danger: Danger
  name: string
  isSimulated: boolean
  /** Of when this is, where it is not from now. */
  at: string | null
  now: number
  children: ComponentChildren
}

function Strip({ danger, name, isSimulated, at, now, children }: OneProps) {
  const { kind, speed, peak, since, by, action } = danger
  return (
    <section class={`danger danger-${kind}`} data-danger={kind} aria-label={`${WORDS[kind]}: ${name}`}>
      <p class="danger-words">
        <span class="danger-head">
          <Sign />
          {at !== null && `Last known ${at}: `}
          <b>{WORDS[kind]}</b>
          {speed !== null && <b class="number"> {percent(speed)} of rated speed</b>} <span>{name}</span>
          {isSimulated && <SimStamp />}
        </span>
        <span class="dotted danger-facts">
          {speed !== null && kind === 'tripped' && speed > STANDSTILL && <span>still turning</span>}
          {peak !== null && <span>peak {percent(peak)}</span>}
          {since !== null && <span>for {durationWords(Math.max(0, now - since))}</span>}
          <span>first: {by}</span>
        </span>
        <span class="danger-action">{action ?? STAY_CLEAR}</span>
      </p>
      <div class="buttons">{children}</div>
    </section>
  )
}

const WORDS: Record<Danger['kind'], string> = { overSpeed: 'Over-speed', tripped: 'Tripped' }

/** As server/derive/machineState.ts: below this share of rated speed the shaft stands still. */
const STANDSTILL = 0.01
const STAY_CLEAR = 'Stay clear of the machine.'

function percent(share: number): string {
  return `${Math.round(100 * share)} %`
}
