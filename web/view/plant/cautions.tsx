import type { Caution } from '../../../server/wire/plant.ts'
import { Panel } from '../parts/panel.tsx'

/** Warnings for whoever works at the plant. Signal words follow ISO 3864. */
export function CautionPanel({ cautions }: { cautions: Caution[] }) {
  if (cautions.length === 0) return null
  return (
    <Panel id="cautions" title="Before you touch anything">
      <ul class="cautions">
        {cautions.map(({ signal, text }) => (
          <li key={text} data-signal={signal}>
            <strong class={`signal signal-${signal.toLowerCase()}`}>{signal}</strong> {text}
          </li>
        ))}
      </ul>
    </Panel>
  )
}
