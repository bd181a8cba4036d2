import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { AuditEntry } from '../../../server/wire/access.ts'
import { accessRequests } from '../../connect/accessRequests.ts'
import { dayTime, localZone, zoneName } from '../../format/time.ts'
import { Button } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { WideTable } from '../parts/wideTable.tsx'

/** Who did what, newest first, page by page. */
export function AuditPanel() {
  const entries = useSignal<AuditEntry[] | null>(null)
  const error = useSignal<string | null>(null)
  const hasOlder = useSignal(true)
  const read = async (held: AuditEntry[]) => {
    const answer = await accessRequests.audit(held.at(-1)?.sequence)
    error.value = answer.ok ? null : answer.error
    if (!answer.ok) return
    hasOlder.value = answer.reply.entries.length > 0
    entries.value = [...held, ...answer.reply.entries]
  }
  useEffect(() => void read([]), [])
  return (
    <Panel
      id="audit"
      title="Audit"
      aside={<span class="count">times in {zoneName(Date.now(), localZone)}</span>}
    >
      {error.value && <p class="quiet">Not read: {error.value}</p>}
      {entries.value && (
        <WideTable
          caption="What was done and what was refused, newest first"
          heads={['Time', 'Who', 'What', 'To', 'Outcome']}
          remarkHead="Remark"
          rows={entries.value.map(rowOf)}
        />
      )}
      <div class="buttons">
        <Button isSmall onClick={() => read([])}>
          Read again
        </Button>
        {hasOlder.value && entries.value && (
          <Button isSmall action="older" onClick={() => read(entries.value ?? [])}>
            Older
          </Button>
        )}
      </div>
    </Panel>
  )
}

function rowOf({ sequence, at, who, role, address, action, target, detail, outcome }: AuditEntry) {
  return {
    key: String(sequence),
    isBad: outcome !== 'done',
    cells: [
      dayTime(at, localZone),
      role && role !== 'demo' ? `${who} (${role})` : (who ?? 'not signed in'),
      action,
      target,
      outcome,
    ],
    remark: [detail, `from ${address}`].filter((part) => part !== null).join(', '),
  }
}
