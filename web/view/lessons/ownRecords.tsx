import { useSignal } from '@preact/signals'
import type { RecordView, SeatReply } from '../../../server/wire/lesson.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import { useDeed } from '../../connect/deed.ts'
import { seatRequests } from '../../connect/lessonRequests.ts'
import { clockTime } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import type { FigureHold, PlantHold } from '../../hold/plantHold.ts'
import { repeatsOf } from '../../hold/repeats.ts'
import { Button } from '../parts/button.tsx'
import { ChoiceField, Field, sent } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import { Refused } from '../parts/refusal.tsx'
import type { PhoneProps } from './recordButton.tsx'
import { withUnit } from './revealStrip.tsx'

const STEADY_WORDS = { steady: 'steady', hold: 'not steady', unknown: 'steadiness not known' } as const

/** The rows of the group, what they scatter by, and the pack. */
export function OwnRecords({ connection, reply, again }: PhoneProps) {
  const hold = connection.hold.value
  const { records } = reply
  return (
    <Panel id="records" title="Our records" count={counted(records.length, 'row')}>
      {records.length === 0 && <p class="quiet">None yet. Press “Record” when the plant is steady.</p>}
      {hold && <Scatter records={records} hold={hold} />}
      <ol class="lines" reversed>
        {records.map((record) => (
          <OwnRecord key={record.number} record={record} hold={hold} again={again} />
        ))}
      </ol>
      <p>
        <a class="press" href={seatRequests.packAddress} download data-action="pack">
          Download our pack
        </a>
      </p>
    </Panel>
  )
}

function OwnRecord({
  record,
  hold,
  again,
}: {
  record: RecordView
  hold: PlantHold | null
  again: () => void
}) {
  const zone = hold?.view.timeZone ?? 'UTC'
  const { number, struck, remark, steady, shown, point, pressedAt, storedAt } = record
  const isLate = storedAt - pressedAt > 5000 && !point
  return (
    <li class={struck === null ? undefined : 'own-struck'} data-record={number} value={number}>
      <p>
        <b>Record {number}</b> · {clockTime(pressedAt, zone)}
        {isLate && `, stored ${clockTime(storedAt, zone)}`} · {record.setting} ·{' '}
        {point ? `point ${point.number} of the run` : STEADY_WORDS[steady.state]}
        {shown !== 'live' && ` · ${shown}`}
      </p>
      <p class="row">
        {record.figures.flatMap(({ id, value, u95 }) => {
          const figure = hold?.byId.get(id)
          if (!figure || value === null) return []
          return [
            <span key={id}>
              {figure.description.name} <b class="number">{withUnit(figure, value, u95 ?? null)}</b>
            </span>,
          ]
        })}
      </p>
      {remark && <p>Remark: {remark}</p>}
      {struck !== null ? (
        <p>
          <b>✕ Struck out</b>: {struck}
        </p>
      ) : (
        <Notes record={record} again={again} />
      )}
    </li>
  )
}

/** A remark may be written and a row struck out; the figures stay as they are. */
function Notes({ record: { number, remark }, again }: { record: RecordView; again: () => void }) {
  const { error, act } = useDeed()
  const send = (deed: 'remark' | 'strike') =>
    sent(async (typed) => {
      if (await act(seatRequests[deed](number, typed('text')))) again()
    })
  return (
    <details class="fold">
      <summary>Remark or strike out</summary>
      <form class="note-form" onSubmit={send('remark')}>
        <Field id={`remark-${number}`} label="Remark" name="text" maxLength={300} defaultValue={remark} />
        <Button type="submit" action="remark">
          Write
        </Button>
      </form>
      <form class="note-form" onSubmit={send('strike')}>
        <Field
          id={`strike-${number}`}
          label="Reason for striking it out"
          name="text"
          maxLength={300}
          minLength={3}
          required
        />
        <Button type="submit" action="strike">
          Strike out
        </Button>
      </form>
      <Refused reason={error.value} />
    </details>
  )
}

/** Mean and deviation of like settings, of one figure. */
function Scatter({ records, hold }: { records: readonly RecordView[]; hold: PlantHold }) {
  const ids = [...new Set(records.flatMap(({ figures }) => figures.map(({ id }) => id)))]
  const figures = ids
    .flatMap((id) => hold.byId.get(id) ?? [])
    .filter(({ description }) => !description.discrete)
  const chosen = useSignal<string | null>(null)
  const figure = figures.find(({ description }) => description.id === chosen.value) ?? figures[0]
  const repeats = figure ? repeatsOf(records, figure.description.id) : []
  if (!figure || repeats.every(({ values }) => values.length < 2)) return null
  return (
    <div class="scatter" data-scatter={figure.description.id}>
      <ChoiceField
        id="scatter-figure"
        label="Scatter of"
        value={figure.description.id}
        options={figures.map(({ description }) => description)}
        choose={(id) => (chosen.value = id)}
      />
      <ul>
        {repeats.map(({ setting, values, mean, deviation }) => (
          <li key={setting}>
            {setting || 'one setting'}: mean <b class="number">{withUnit(figure, mean, null)}</b>,{' '}
            {deviation === null
              ? 'one row only'
              : `s = ${deviationText(figure, deviation)}, ${counted(values.length, 'row')}`}
          </li>
        ))}
      </ul>
    </div>
  )
}

function deviationText({ unit }: FigureHold, deviation: number): string {
  const { text } = formatNumber(unit.difference(deviation), { usual: 0 })
  return `${text} ${unit.print}`.trim()
}

/** Points that the guided run at the plant has captured; each can be taken once. */
export function PointsToTake({ reply, again }: { reply: SeatReply; again: () => void }) {
  const { error, act } = useDeed()
  if (reply.points.length === 0) return null
  const take = async (run: number, number: number) => {
    const key = `point-${run}-${number}`
    await act(seatRequests.record({ key, ageMs: 0, point: { run, number } }))
    again()
  }
  return (
    <Panel id="points" title="Points of the guided run">
      <ul class="lines">
        {reply.points.map(({ run, number, setting, isTaken }) => (
          <li key={number} class="row apart">
            <span>
              Point {number} · {setting}
            </span>
            {isTaken ? (
              <span class="quiet">✓ taken</span>
            ) : (
              <Button onClick={() => take(run, number)} data-take={number}>
                Take for our group
              </Button>
            )}
          </li>
        ))}
      </ul>
      <Refused reason={error.value} />
    </Panel>
  )
}
