import { useSignal } from '@preact/signals'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Button } from '../parts/button.tsx'

export interface HideChoiceProps {
  hold: PlantHold
  /** Ids of the figures that are hidden by hand. */
  hidden: string[]
  /** Resolves once the server has answered. */
  hide: (hidden: string[]) => Promise<void>
}

/** Which figures the class has to predict before it sees them. */
export function HideChoice({ hold, hidden: known, hide }: HideChoiceProps) {
  /** What was asked for, until it is answered. */
  const wish = useSignal<string[] | null>(null)
  const hidden = wish.value ?? known
  const ask = async (next: string[]) => {
    wish.value = next
    await hide(next)
    wish.value = null
  }
  const { view, byId } = hold
  const figures = [...new Set([...view.keyFigures, ...view.trends])].flatMap((id) => byId.get(id) ?? [])
  return (
    <div class="buttons replay-hide">
      <details class="fold">
        <summary>Hide figures for a prediction{hidden.length > 0 && ` (${hidden.length} hidden)`}</summary>
        <p class="hint">
          What follows from a hidden figure is hidden with it, for everybody and on every screen of this
          replay. Who may read the plant's history can still look there.
        </p>
        <ul class="replay-figures">
          {figures.map(({ description: { id, name } }) => (
            <li key={id}>
              <label class="tick">
                <input
                  type="checkbox"
                  data-hide={id}
                  checked={hidden.includes(id)}
                  onChange={({ currentTarget }) =>
                    void ask(currentTarget.checked ? [...hidden, id] : hidden.filter((one) => one !== id))
                  }
                />
                {name}
              </label>
            </li>
          ))}
        </ul>
      </details>
      {hidden.length > 0 && (
        <Button action="reveal" onClick={() => ask([])}>
          Reveal
        </Button>
      )}
    </div>
  )
}
