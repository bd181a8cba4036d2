import type { CounterView } from '../../../server/wire/replies.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import type { Session } from '../../connect/session.ts'
import { durationWords } from '../../format/age.ts'
import { formatCount, formatNumber } from '../../format/numbers.ts'
import { dateTime } from '../../format/time.ts'
import { counterUnit } from '../../format/units.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { QualityMark } from '../parts/figure.tsx'
import { Panel } from '../parts/panel.tsx'

const EVERY_MS = 10_000

/** Energy, volume and hours since counting began, with the time in which nothing could be counted. */
export function CounterPanel({ hold, session }: { hold: PlantHold; session: Session }) {
  const plant = hold.view.id
  const counters = usePolled(() => http.counters(plant), EVERY_MS, [plant, session.joins.value])
  const list = counters.reply.value
  const since = commonStart(list ?? [])
  return (
    <Panel
      id="counters"
      title="Counters"
      aside={since !== undefined && <span class="count">since {dateTime(since, hold.view.timeZone)}</span>}
    >
      {counters.error.value && <p class="quiet">Not read: {counters.error.value}</p>}
      {list?.length === 0 && <p class="quiet">Nothing is counted at this plant.</p>}
      <dl class="counters">
        {list?.map((counter) => (
          <Counter
            key={counter.id}
            counter={counter}
            since={since === undefined ? `since ${dateTime(counter.since, hold.view.timeZone)}` : ''}
          />
        ))}
      </dl>
    </Panel>
  )
}

/** When all counters began, if they began together. */
function commonStart([first, ...others]: CounterView[]): number | undefined {
  return others.every(({ since }) => since === first?.since) ? first?.since : undefined
}

function Counter({ counter, since }: { counter: CounterView; since: string }) {
  const unit = counterUnit(counter.unit)
  const { quality, gapSeconds } = counter
  const reasons = [`${durationWords(gapSeconds * 1000)} not counted`]
  const remarks = [since, gapSeconds >= 1 ? reasons[0] : ''].filter(Boolean)
  return (
    <div data-counter={counter.id}>
      <dt>{counter.name}</dt>
      <dd>
        <span class={`value quality-${quality}`} data-quality={quality} data-wire={counter.value}>
          <span class="number">
            {counter.unit === '1' ? formatCount(counter.value) : formatNumber(unit.value(counter.value)).text}
          </span>
          {unit.print && <span class="unit"> {unit.print}</span>}
          <QualityMark value={{ value: counter.value, at: counter.at, quality, reasons }} />
        </span>
      </dd>
      {remarks.length > 0 && <dd class="counter-since">{remarks.join('; ')}</dd>}
    </div>
  )
}
