import type { IndexView } from '../../../server/wire/replies.ts'
import { unitView } from '../../../server/wire/units.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { indexReasons, indexText } from '../../format/counterWords.ts'
import { Fold } from '../parts/fold.tsx'
import { TableHead } from '../parts/tableHead.tsx'

const EVERY_MS = 30_000

/** Capacity factor, availability and others; what the plant lacks for the rest stands below. */
export function IndexTable({ plant, joins }: { plant: string; joins: number }) {
  const indices = usePolled(() => http.indices(plant), EVERY_MS, [plant, joins])
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
