import { agoWords, durationWords } from '../../format/age.ts'
import { stateWords } from '../../format/words.ts'
import type { FigureHold, PlantHold } from '../../hold/plantHold.ts'
import { FigureNumber } from '../parts/figureNumber.tsx'
import { LastKnownMark, useLastKnown } from '../parts/ground.tsx'
import { StateShape } from '../parts/shapes.tsx'
import type { PlantProps } from './plantProps.ts'

/** The answer to "shall I drive out?": word, shape, sentence, power and age. */
export function StateCard({ connection, hold }: PlantProps) {
  const { state, sentence, since, agreement } = hold.state.value
  const power = headlineFigure(hold)
  const isWithheld = useLastKnown() !== null
  return (
    <section class={`panel row state-card state-card-${state}`} aria-label="State" data-state={state}>
      <StateShape state={state} />
      <div class="state-words">
        <p class="state-word">
          <LastKnownMark />
          {stateWords[state]}
        </p>
        <p class="state-sentence">{sentence}</p>
        {agreement.state === 'suspect' && (
          <p class="state-sentence" data-agreement="suspect">
            Check: {agreement.sentence}
          </p>
        )}
      </div>
      <div class="state-power">
        {power && <FigureNumber figure={power} brief />}
        <p class="quiet dotted">
          {power && <span>{power.description.name}</span>}
          {since !== null && !isWithheld && (
            <span>for {durationWords(Math.max(0, connection.now.value - since))}</span>
          )}
          {power && <span>measured {agoWords(power.value.value.at, connection.now.value)}</span>}
        </p>
      </div>
    </section>
  )
}

/** The first key figure that is a power; without one, the first key figure. */
function headlineFigure({ view, byId }: PlantHold): FigureHold | undefined {
  const keys = view.keyFigures.flatMap((id) => byId.get(id) ?? [])
  return keys.find((figure) => figure.description.unit === 'W') ?? keys[0]
}
