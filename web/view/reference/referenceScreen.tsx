import { useState } from 'preact/hooks'
import type { ReferenceTable } from '../../../server/wire/reference.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { counted } from '../../format/words.ts'
import { Field } from '../parts/fields.tsx'
import { Fold } from '../parts/fold.tsx'
import { PolledScreen } from '../parts/polledScreen.tsx'
import { WideTable } from '../parts/wideTable.tsx'

/** It changes with the server's version only. */
const EVERY_MS = 600_000

/** What can be written in a plant file and what is computed from it, to be searched. */
export function ReferenceScreen() {
  const asked = usePolled(http.reference, EVERY_MS, [])
  const [sought, setSought] = useState('')
  const tables = asked.reply.value?.tables ?? []
  return (
    <PolledScreen screen="reference" title="Reference" asked={asked} kept="What is shown was last received.">
      <Field
        label="Find in it"
        type="search"
        value={sought}
        placeholder="e.g. headwater, psi, efficiency"
        onInput={(event) => setSought(event.currentTarget.value)}
      />
      {tables.map((table) => (
        <Part key={table.id} table={table} sought={sought.trim().toLowerCase()} />
      ))}
      <p class="quiet">
        For editors: <a href="/plant.schema.json">schema of the plant file</a>,{' '}
        <a href="/notify.schema.json">schema of the notification file</a>.
      </p>
    </PolledScreen>
  )
}

function Part({ table, sought }: { table: ReferenceTable; sought: string }) {
  const rows = table.rows.filter((cells) => sought === '' || cells.join(' ').toLowerCase().includes(sought))
  if (rows.length === 0) return null
  return (
    <Fold
      key={sought === '' ? 'all' : 'found'}
      title={table.title}
      note={counted(rows.length, 'row')}
      always
      isOpen={sought !== ''}
    >
      <p>{table.says}</p>
      <WideTable
        caption={table.title}
        heads={table.heads}
        rows={rows.map((cells) => ({ key: cells.join(' '), isBad: false, cells }))}
      />
    </Fold>
  )
}
