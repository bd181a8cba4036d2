import type { MachineState } from '../../../server/wire/plant.ts'
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
  const power = headlineFigure(hold, state)
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

/** States in which the speed says more than the power, which is none. */
const OF_SPEED: readonly MachineState[] = ['overSpeed', 'noLoad', 'runDown', 'starting', 'turning']

/** The first key figure that is a power; without one, the first key figure. Of a machine without load its speed. */
function headlineFigure({ view, byId }: PlantHold, state: MachineState): FigureHold | undefined {
  const speed = byId.get('speed') ?? byId.get('turbineSpeed')
  if (OF_SPEED.includes(state) && speed) return speed
  const keys = view.keyFigures.flatMap((id) => byId.get(id) ?? [])
  return keys.find((figure) => figure.description.unit === 'W') ?? keys[0]
}
