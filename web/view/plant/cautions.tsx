import type { Caution } from '../../../server/wire/plant.ts'
import { Fold } from '../parts/fold.tsx'
import { Panel } from '../parts/panel.tsx'

const SIGNALS: Caution['signal'][] = ['DANGER', 'WARNING', 'CAUTION', 'NOTICE']

/** Warnings for whoever works at the plant. Signal words follow ISO 3864. */
export function CautionPanel({ cautions }: { cautions: Caution[] }) {
  if (cautions.length === 0) return null
  const worstFirst = [...cautions].sort((a, b) => SIGNALS.indexOf(a.signal) - SIGNALS.indexOf(b.signal))
  return (
    <Panel id="cautions" title="Before you touch anything" isStill>
      <CautionList cautions={worstFirst.slice(0, 1)} />
      {worstFirst.length > 1 && (
        <Fold title="More warnings" note={`${worstFirst.length - 1}`}>
          <CautionList cautions={worstFirst.slice(1)} />
        </Fold>
      )}
    </Panel>
  )
}

function CautionList({ cautions }: { cautions: Caution[] }) {
  return (
    <ul class="lines small">
      {cautions.map(({ signal, text }) => (
        <li key={text} data-signal={signal}>
          <strong class={`signal signal-${signal.toLowerCase()}`}>{signal}</strong> {text}
        </li>
      ))}
    </ul>
  )
}
