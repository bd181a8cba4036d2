import type { IndexValue, IndexView } from '../../../server/wire/replies.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { indexText } from '../../format/counters.ts'
import { unitView } from '../../format/units.ts'
import { Fold } from '../parts/fold.tsx'

const EVERY_MS = 30_000

/** Capacity factor, availability and others: asked for only where somebody opens them. */
export function IndexTable({ plant, joins }: { plant: string; joins: number }) {
  const indices = usePolled(() => http.indices(plant), EVERY_MS, [plant, joins])
  const list = indices.reply.value ?? []
  const given = list.filter((index) => index.needs === undefined)
  const lacking = list.filter((index) => index.needs !== undefined)
  if (list.length === 0) return null
  return (
    <Fold always title="Indices" note={`${given.length} from these counters`}>
      {given.length > 0 && (
        <table class="counters">
          <thead>
            <tr>
              <th scope="col">
                <span class="spoken">Index</span>
              </th>
              <th scope="col" class="at-right">
                This month
              </th>
              <th scope="col" class="at-right">
                Since
              </th>
            </tr>
          </thead>
          <tbody>
            {given.map((index) => (
              <Index key={index.id} index={index} />
            ))}
          </tbody>
        </table>
      )}
      {lacking.map(({ id, name, needs }) => (
        <p key={id} class="counter-since">
          {name}: {needs}.
        </p>
      ))}
    </Fold>
  )
}

function Index({ index }: { index: IndexView }) {
  const { id, name, formula, unit, viewUnit, thisMonth, since } = index
  const { print } = unitView(unit, viewUnit)
  return (
    <tr data-index={id}>
      <th scope="row">
        {name} {print && <span class="unit">{print}</span>}
        <span class="counter-since">{formula}</span>
      </th>
      <IndexCell index={index} value={thisMonth} />
      <IndexCell index={index} value={since} />
    </tr>
  )
}

function IndexCell({ index, value }: { index: IndexView; value: IndexValue | null }) {
  const { text, reason } = indexText(index, value)
  return (
    <td class="at-right">
      <span class="number">{text}</span>
      {reason !== '' && <span class="counter-since">{reason}</span>}
    </td>
  )
}
