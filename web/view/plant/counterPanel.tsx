import type { CounterGroup, CounterView, IndexView } from '../../../server/wire/replies.ts'
import { unitView } from '../../../server/wire/units.ts'
import type { Connection } from '../../connect/connection.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import {
  counterGroups,
  counterNotes,
  counterUnit,
  countText,
  eventWords,
  gapWords,
  indexReasons,
  indexText,
  sharedStart,
} from '../../format/counterWords.ts'
import { dateTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { QualityMark } from '../parts/figureNumber.tsx'
import { Fold } from '../parts/fold.tsx'
import { Panel } from '../parts/panel.tsx'
import { TableHead } from '../parts/wideTable.tsx'

const EVERY_MS = 10_000

/** What a person does not come for every day stands folded. */
const FOLDED: readonly CounterGroup[] = ['protection', 'battery']

/** What was made, used and run: today, this month and since counting began, with the time that is missing. */
export function CounterPanel({ hold, connection }: { hold: PlantHold; connection: Connection }) {
  const plant = hold.view.id
  const zone = hold.view.timeZone
  const counters = usePolled(() => http.counters(plant), EVERY_MS, [plant, connection.joins.value])
  const list = counters.reply.value ?? []
  const start = sharedStart(list)
  return (
    <Panel
      id="counters"
      title="Counters"
      count={start === undefined ? undefined : `since ${dateTime(start, zone)}`}
    >
      {counters.error.value && <p class="quiet">Not read: {counters.error.value}</p>}
      {counters.reply.value?.length === 0 && <p class="quiet">Nothing is counted at this plant.</p>}
      {counterGroups.map(([group, title]) => (
        <Group
          key={group}
          title={title}
          zone={zone}
          start={start}
          isFolded={FOLDED.includes(group)}
          list={list.filter((one) => one.group === group)}
        />
      ))}
      <IndexTable plant={plant} joins={connection.joins.value} />
    </Panel>
  )
}

interface GroupProps {
  title: string
  list: CounterView[]
  isFolded: boolean
  zone: string
  /** When most counters began, said once beside the title. */
  start: number | undefined
}

function Group({ title, list, isFolded, zone, start }: GroupProps) {
  if (list.length === 0) return null
  const table = (
    <table class="counters">
      <TableHead
        heads={[isFolded ? <span class="spoken">{title}</span> : title, '#Today', '#Month', '#Since']}
      />
      <tbody>
        {list.map((counter) => (
          <Counter key={counter.id} counter={counter} zone={zone} start={start} />
        ))}
      </tbody>
    </table>
  )
  if (!isFolded) return table
  return (
    <Fold always title={title} note={eventWords(list)}>
      {table}
    </Fold>
  )
}

interface CounterProps {
  counter: CounterView
  zone: string
  start: number | undefined
}

function Counter({ counter, zone, start }: CounterProps) {
  const { id, name, today, thisMonth, quality, at } = counter
  const unit = counterUnit(counter.unit)
  const notes = counterNotes(counter, { zone, start })
  const reasons = [gapWords(counter) || 'nothing has come in yet']
  return (
    <tr data-counter={id}>
      <th scope="row">
        {name} {unit.print && <span class="unit">{unit.print}</span>}
        {notes.length > 0 && <span class="note">{notes.join('; ')}</span>}
      </th>
      <td class="at-right number">{countText(counter, today)}</td>
      <td class="at-right number">{countText(counter, thisMonth)}</td>
      <td class="at-right">
        <span class={`value quality-${quality}`} data-quality={quality} data-wire={counter.value}>
          <span class="number">{countText(counter, counter)}</span>
          <QualityMark value={{ value: counter.value, at, quality, reasons }} />
        </span>
      </td>
    </tr>
  )
}

const INDICES_MS = 30_000

/** Capacity factor, availability and others; what the plant lacks for the rest stands below. */
function IndexTable({ plant, joins }: { plant: string; joins: number }) {
  const indices = usePolled(() => http.indices(plant), INDICES_MS, [plant, joins])
  const list = indices.reply.value ?? []
  const given = list.filter((index) => index.needs === undefined)
  const lacking = list.filter((index) => index.needs !== undefined)
  if (list.length === 0) return null
  return (
    <Fold always title="Indices" note="capacity factor and others">
      {given.length > 0 && (
        <table class="counters indices">
          <TableHead
            heads={[
              <span class="spoken" key="index">
                Index
              </span>,
              '#Month',
              '#Since, at most a year',
            ]}
          />
          <tbody>
            {given.map((index) => (
              <Index key={index.id} index={index} />
            ))}
          </tbody>
        </table>
      )}
      {lacking.map(({ id, name, needs }) => (
        <p key={id} class="note">
          {name}: {needs}.
        </p>
      ))}
    </Fold>
  )
}

function Index({ index }: { index: IndexView }) {
  const { id, name, formula, unit, viewUnit, thisMonth, since } = index
  const { print } = unitView(unit, viewUnit)
  const reasons = indexReasons(index)
  return (
    <tr data-index={id}>
      <th scope="row">
        {name} {print && <span class="unit">{print}</span>}
        <span class="note">{formula}</span>
        {reasons !== '' && <span class="note">{reasons}</span>}
      </th>
      <td class="at-right number">{indexText(index, thisMonth)}</td>
      <td class="at-right number">{indexText(index, since)}</td>
    </tr>
  )
}
