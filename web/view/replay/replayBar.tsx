import { useSignal } from '@preact/signals'
import type { ReplayControl, ReplaySummary } from '../../../server/wire/replay.ts'
import type { ReplayView } from '../../../server/wire/scene.ts'
import { useDeed } from '../../connect/deed.ts'
import { may } from '../../connect/person.ts'
import { replayRequests } from '../../connect/replayRequests.ts'
import { clockTime, dateTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Button } from '../parts/button.tsx'
import { Choice } from '../parts/fields.tsx'
import { useLastKnown } from '../parts/ground.tsx'
import { Refused } from '../parts/refusal.tsx'
import { address } from '../screens.ts'

const SPEEDS = [0.25, 0.5, 1, 2, 4, 8, 16]

export interface ReplayBarProps {
  hold: PlantHold
  replay: number
  /** Null until the server has answered. */
  summary: ReplaySummary | null
  /** Takes in what the server answered to a wish. */
  take: (summary: ReplaySummary) => void
}

/** Says on every screen that this is a recording, of when, and by whom; steers it for those who may. */
export function ReplayBar(props: ReplayBarProps) {
  const { hold, summary } = props
  const view = hold.scene.value?.replay
  if (!view) return null
  const hidden = hold.scene.value?.hidden.length ?? 0
  return (
    <>
      <p class="replay-stamp" data-paused={view.isPaused}>
        <b class="replay-word">Replay</b>
        <span>
          recorded <time class="number">{dateTime(view.at, hold.view.timeZone)}</time>
        </span>
        <span class="number">{view.isPaused ? 'paused' : `${view.speed} × as fast`}</span>
        <span>Nothing here is live. Shown by {view.by}.</span>
        {hidden > 0 && <span>Some figures are hidden until they are revealed.</span>}
      </p>
      {(may('teach') || summary?.waits) && (
        <section class="replay-bar" aria-label="Replay" data-panel="replay">
          {summary?.waits && <p role="status">{summary.waits}</p>}
          {may('teach') && <Steering {...props} view={view} />}
        </section>
      )}
    </>
  )
}

type Steer = (wish: ReplayControl) => void

function Steering({ hold, replay, summary, take, view }: ReplayBarProps & { view: ReplayView }) {
  const { error, act } = useDeed()

  async function steer(wish: ReplayControl): Promise<void> {
    const steered = await act(replayRequests.steer(replay, wish))
    if (steered) take(steered)
  }

  async function end(): Promise<void> {
    if (await act(replayRequests.end(replay)))
      location.hash = address({ screen: 'plant', plant: hold.scene.value?.plant ?? '' })
  }

  return (
    <fieldset class="replay-steering" disabled={useLastKnown() !== null} aria-label="Course of the replay">
      <div class="buttons">
        <PaceKeys view={view} steer={(wish) => void steer(wish)} />
        <MarkKeys marks={summary?.marks ?? []} at={view.at} steer={(wish) => void steer(wish)} />
        <Button action="replay-end" onClick={end}>
          End for all
        </Button>
      </div>
      <PlaceSlider view={view} zone={hold.view.timeZone} steer={(wish) => void steer(wish)} />
      <HideChoice hold={hold} hidden={summary?.hidden ?? []} hide={(hidden) => steer({ hidden })} />
      <Refused reason={error.value && `Not done: ${error.value}`} />
    </fieldset>
  )
}

function PaceKeys({ view, steer }: { view: ReplayView; steer: Steer }) {
  return (
    <>
      <Button action="replay-run" onClick={() => steer({ isPaused: !view.isPaused })}>
        {view.isPaused ? 'Run' : 'Pause'}
      </Button>
      <label class="replay-speed">
        Speed{' '}
        <Choice
          data-control="replay-speed"
          value={view.speed}
          options={SPEEDS.map((speed) => ({ id: speed, name: `${speed} ×` }))}
          choose={(speed) => steer({ speed })}
        />
      </label>
    </>
  )
}

function MarkKeys({ marks, at, steer }: { marks: ReplaySummary['marks']; at: number; steer: Steer }) {
  if (marks.length === 0) return null
  const before = marks.findLast((mark) => mark.at < at - 1000)
  const after = marks.find((mark) => mark.at > at + 1000)
  return (
    <>
      <Button disabled={!before} onClick={() => before && steer({ at: before.at, isPaused: true })}>
        Point before
      </Button>
      <Button
        action="replay-next"
        disabled={!after}
        onClick={() => after && steer({ at: after.at, isPaused: true })}
      >
        Next point
      </Button>
    </>
  )
}

function PlaceSlider({ view, zone, steer }: { view: ReplayView; zone: string; steer: Steer }) {
  /** Where the handle stands while it is dragged. */
  const dragged = useSignal<number | null>(null)
  const at = dragged.value ?? view.at
  return (
    <label class="replay-place">
      <span class="spoken">Recorded moment</span>
      <span class="number">{clockTime(view.from, zone)}</span>
      <input
        type="range"
        min={view.from}
        max={view.to}
        step={1000}
        value={at}
        aria-valuetext={dateTime(at, zone)}
        onInput={({ currentTarget }) => {
          dragged.value = currentTarget.valueAsNumber
        }}
        onChange={({ currentTarget }) => {
          dragged.value = null
          steer({ at: currentTarget.valueAsNumber })
        }}
      />
      <span class="number">{dragged.value === null ? clockTime(view.to, zone) : clockTime(at, zone)}</span>
    </label>
  )
}

interface HideChoiceProps {
  hold: PlantHold
  /** Ids of the figures that are hidden by hand. */
  hidden: string[]
  /** Resolves once the server has answered. */
  hide: (hidden: string[]) => Promise<void>
}

/** Which figures the class has to predict before it sees them. */
function HideChoice({ hold, hidden: known, hide }: HideChoiceProps) {
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
