import { type Signal, useSignal } from '@preact/signals'
import type { RunReply, RunSummary } from '../../../server/wire/trial.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { Button } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import type { Kind } from './drawRun.ts'
import { PointResult } from './pointResult.tsx'
import type { RunProps } from './runActions.ts'
import { TraceResult } from './traceResult.tsx'
import { runNames } from './trialText.ts'

const LIST_MS = 15_000
const MOST_OTHERS = 3

/** What was kept says together, drawn and in numbers, with other runs of the same trial laid over it. */
export function ResultPanel({ reply, hold }: RunProps) {
  const kind = useSignal<Kind>('actual')
  const others = useSignal<readonly RunReply[]>([])
  const hasKinds = reply.takes === 'points' && reply.trial.unitAbscissa !== null
  const plant = hold.view.id
  return (
    <Panel
      id={reply.takes === 'points' ? 'curve' : 'trace'}
      title="Result"
      aside={hasKinds && <KindChoice kind={kind} />}
    >
      {reply.takes === 'points' ? (
        <PointResult reply={reply} others={others.value} kind={kind.value} />
      ) : (
        <TraceResult reply={reply} others={others.value} plant={plant} />
      )}
      <Overlay plant={plant} run={reply.run} others={others} />
    </Panel>
  )
}

const KIND_WORDS: Record<Kind, string> = { actual: 'As measured', unit: 'Unit quantities' }

function KindChoice({ kind }: { kind: Signal<Kind> }) {
  return (
    <span class="buttons">
      {(['actual', 'unit'] as const).map((one) => (
        <Button key={one} isSmall aria-pressed={kind.value === one} onClick={() => (kind.value = one)}>
          {KIND_WORDS[one]}
        </Button>
      ))}
    </span>
  )
}

interface OverlayProps {
  plant: string
  run: RunSummary
  others: Signal<readonly RunReply[]>
}

/** Saved runs of the same trial, to be laid over this one. */
function Overlay({ plant, run, others }: OverlayProps) {
  const asked = usePolled(() => trialRequests.runs(plant, { trial: run.trial }), LIST_MS, [plant, run.trial])
  const runs = (asked.reply.value?.runs ?? []).filter((one) => one.id !== run.id)
  if (runs.length === 0) return null
  const isShown = (id: number) => others.value.some((one) => one.run.id === id)
  const toggle = async (id: number) => {
    if (isShown(id)) {
      others.value = others.value.filter((one) => one.run.id !== id)
      return
    }
    const answer = await trialRequests.run(plant, id)
    if (answer.ok && !isShown(id)) others.value = [...others.value, answer.reply].slice(-MOST_OTHERS)
  }
  return (
    <details class="fold">
      <summary>Lay other runs over this one</summary>
      <ul>
        {runs.map((one) => (
          <li key={one.id}>
            <label class="tick">
              <input type="checkbox" checked={isShown(one.id)} onChange={() => void toggle(one.id)} />
              {one.name} {runNames(one)}
            </label>
          </li>
        ))}
      </ul>
    </details>
  )
}
