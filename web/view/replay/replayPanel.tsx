import { type Signal, useSignal } from '@preact/signals'
import type { ReplayRequest } from '../../../server/wire/replay.ts'
import type { Connection } from '../../connect/connection.ts'
import { useDeed } from '../../connect/deed.ts'
import { may } from '../../connect/person.ts'
import { usePolled } from '../../connect/poll.ts'
import { replayRequests } from '../../connect/replayRequests.ts'
import { dateTime } from '../../format/time.ts'
import { fieldText, readField } from '../../format/zonedTime.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Button } from '../parts/button.tsx'
import { Field } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import { address } from '../screens.ts'

const EVERY_MS = 10_000
const SPANS = [
  { name: 'Last 10 minutes', ms: 600_000 },
  { name: 'Last hour', ms: 3_600_000 },
  { name: 'Last 24 hours', ms: 86_400_000 },
] as const

/** Recordings of this plant that are being shown, and how to show one. */
export function ReplayPanel({ hold, connection }: { hold: PlantHold; connection: Connection }) {
  const { id, timeZone } = hold.view
  const asked = usePolled(() => replayRequests.list(id), EVERY_MS, [id])
  const replays = asked.reply.value?.replays ?? []
  if (replays.length === 0 && !may('teach')) return null
  return (
    <Panel id="replays" title="Replay">
      <ul class="replay-list">
        {replays.map((one) => (
          <li key={one.id}>
            <a href={address({ screen: 'replay', replay: one.id })}>
              {one.runName ?? dateTime(one.from, timeZone)}
            </a>{' '}
            is being shown by {one.by}
          </li>
        ))}
      </ul>
      {may('teach') && (
        <p class="buttons">
          {SPANS.map(({ name, ms }) => (
            <ReplayStart
              key={ms}
              plant={id}
              name={name}
              wish={() => {
                const to = Math.round(connection.serverNow()) - 1000
                return { from: to - ms, to }
              }}
            />
          ))}
        </p>
      )}
      {may('teach') && <OtherSpan plant={id} zone={timeZone} now={Math.round(connection.serverNow())} />}
      <p class="hint">
        A recording runs through the same view, for everybody in step. Alarms and counters take no notice.
      </p>
    </Panel>
  )
}

/** Any span of history, by the plant's own clock. */
function OtherSpan({ plant, zone, now }: { plant: string; zone: string; now: number }) {
  const from = useSignal(fieldText(now - 3_600_000, zone))
  const to = useSignal(fieldText(now, zone))
  const field = (name: string, value: Signal<string>) => (
    <Field
      label={name}
      type="datetime-local"
      step={1}
      value={value.value}
      onInput={({ currentTarget }) => (value.value = currentTarget.value)}
    />
  )
  const moment = ({ value }: Signal<string>) => readField(value, zone) ?? 0
  return (
    <details class="fold">
      <summary>Another span</summary>
      <div class="fields">
        {field('From', from)}
        {field('To', to)}
        <p>
          <ReplayStart plant={plant} name="Replay it" wish={() => ({ from: moment(from), to: moment(to) })} />
        </p>
      </div>
    </details>
  )
}

interface ReplayStartProps {
  plant: string
  /** Made when it is pressed: "the last hour" is that of the press. */
  wish: () => ReplayRequest
  name: string
}

/** Shows a recording again, to everybody who opens it. Not there for those who may not. */
export function ReplayStart({ plant, wish, name }: ReplayStartProps) {
  const { error, act } = useDeed()
  if (!may('teach')) return null
  const start = async () => {
    const started = await act(replayRequests.start(plant, wish()))
    if (started) location.hash = address({ screen: 'replay', replay: started.replay })
  }
  return (
    <>
      <Button action="replay" onClick={start}>
        {name}
      </Button>
      {error.value && (
        <span class="refused" role="alert">
          {error.value}
        </span>
      )}
    </>
  )
}
