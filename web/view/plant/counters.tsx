import type { CounterView } from '../../../server/wire/replies.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import type { Session } from '../../connect/session.ts'
import { counterGroups, counterNotes, countText, gapWords, sinceWords } from '../../format/counters.ts'
import { counterUnit } from '../../format/units.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { QualityMark } from '../parts/figure.tsx'
import { Panel } from '../parts/panel.tsx'
import { IndexTable } from './indices.tsx'

const EVERY_MS = 10_000

/** What was made, used and run: today, this month and since counting began, with the time that is missing. */
export function CounterPanel({ hold, session }: { hold: PlantHold; session: Session }) {
  const plant = hold.view.id
  const zone = hold.view.timeZone
  const counters = usePolled(() => http.counters(plant), EVERY_MS, [plant, session.joins.value])
  const list = counters.reply.value
  const shared = mostCommon((list ?? []).map((counter) => sinceWords(counter, zone)))
  return (
    <Panel id="counters" title="Counters" aside={shared && <span class="count">{shared}</span>}>
      {counters.error.value && <p class="quiet">Not read: {counters.error.value}</p>}
      {list?.length === 0 && <p class="quiet">Nothing is counted at this plant.</p>}
      {list && list.length > 0 && (
        <table class="counters">
          <thead>
            <tr>
              <th scope="col">
                <span class="spoken">Counter</span>
              </th>
              <th scope="col" class="at-right">
                Today
              </th>
              <th scope="col" class="at-right">
                This month
              </th>
              <th scope="col" class="at-right">
                Since
              </th>
            </tr>
          </thead>
          {counterGroups.map(([group, title]) => (
            <Group key={group} title={title} list={list.filter((one) => one.group === group)}>
              {(counter) => <Counter key={counter.id} counter={counter} zone={zone} shared={shared} />}
            </Group>
          ))}
        </table>
      )}
      <IndexTable plant={plant} joins={session.joins.value} />
    </Panel>
  )
}

interface GroupProps {
  title: string
  list: CounterView[]
  children: (counter: CounterView) => preact.JSX.Element
}

function Group({ title, list, children }: GroupProps) {
  if (list.length === 0) return null
  return (
    <tbody>
      <tr>
        <th scope="rowgroup" colSpan={4} class="counter-group">
          {title}
        </th>
      </tr>
      {list.map(children)}
    </tbody>
  )
}

interface CounterProps {
  counter: CounterView
  zone: string
  /** Said once beside the title. */
  shared: string | undefined
}

function Counter({ counter, zone, shared }: CounterProps) {
  const { id, name, today, thisMonth, quality, at } = counter
  const unit = counterUnit(counter.unit)
  const since = sinceWords(counter, zone)
  const gapsToday = today ? gapWords(today) : ''
  const notes = [
    ...counterNotes(counter, zone),
    ...(since === shared ? [] : [since]),
    ...(gapsToday === '' ? [] : [`today ${gapsToday}`]),
  ]
  const reasons = [gapWords(counter) || 'nothing has come in yet']
  return (
    <tr data-counter={id}>
      <th scope="row">
        {name} {unit.print && <span class="unit">{unit.print}</span>}
        {notes.length > 0 && <span class="counter-since">{notes.join('; ')}</span>}
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

function mostCommon(texts: readonly string[]): string | undefined {
  const counts = new Map<string, number>()
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0]
}
