import type { CheckView } from '../../../server/wire/findings.ts'
import { Panel } from '../parts/panel.tsx'
import type { RunProps } from './runActions.ts'

const MARKS: Record<CheckView['state'], { mark: string; word: string }> = {
  holds: { mark: '✓', word: 'Holds' },
  fails: { mark: '✗', word: 'Does not hold' },
  unknown: { mark: '?', word: 'Not yet known' },
  byEye: { mark: '○', word: 'Look yourself' },
}

/** What a sound result looks like, and what the points of this run say to it. */
export function ChecksPanel({ reply: { checks } }: RunProps) {
  return (
    <Panel id="checks" title="Checks">
      <ul class="stack checks">
        {checks.map(({ id, text, state, finding }) => (
          <li key={id} data-check={state}>
            <span class="check-state">
              <span class="check-mark" aria-hidden="true">
                {MARKS[state].mark}
              </span>
              {MARKS[state].word}
            </span>
            <span>
              {text}
              {finding !== '' && <span class="note">{finding}</span>}
            </span>
          </li>
        ))}
      </ul>
    </Panel>
  )
}
