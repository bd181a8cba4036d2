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
  const remarks = (list ?? []).map((counter) => remarkOf(counter, hold.view.timeZone))
  const isSame = remarks.every((remark) => remark === remarks[0])
  return (
    <Panel id="counters" title="Counters" aside={isSame && <span class="count">{remarks[0]}</span>}>
      {counters.error.value && <p class="quiet">Not read: {counters.error.value}</p>}
      {list?.length === 0 && <p class="quiet">Nothing is counted at this plant.</p>}
      <dl class="counters">
        {list?.map((counter, i) => (
          <Counter key={counter.id} counter={counter} remark={isSame ? undefined : remarks[i]} />
        ))}
      </dl>
    </Panel>
  )
}

/** Most counters began together and missed the same: then it is said once, beside the title. */
function remarkOf({ since, gapSeconds }: CounterView, zone: string): string {
  return `since ${dateTime(since, zone)}${gapSeconds < 1 ? '' : `; ${gapText(gapSeconds)}`}`
}

function gapText(gapSeconds: number): string {
  return `${durationWords(gapSeconds * 1000)} not counted`
}

function Counter({ counter, remark }: { counter: CounterView; remark: string | undefined }) {
  const unit = counterUnit(counter.unit)
  const { quality, gapSeconds } = counter
  const reasons = [gapText(gapSeconds)]
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
      {remark && <dd class="counter-since">{remark}</dd>}
    </div>
  )
}
