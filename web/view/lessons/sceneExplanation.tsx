import type { ExplainReply } from '../../../server/wire/explain.ts'
import type { Answer } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { FigureSymbol, FormulaText } from '../parts/symbol.tsx'
import { SceneNumber } from './lessonParts.tsx'

const EVERY_MS = 3000

interface ExplanationProps {
  ask: () => Promise<Answer<ExplainReply>>
  figure: string
  hold: PlantHold
}

/** Where a figure comes from, for a lesson: formula, numbers where they may be shown, inputs. */
export function SceneExplanation({ ask, figure, hold }: ExplanationProps) {
  const asked = usePolled(ask, EVERY_MS, [figure])
  const reply = asked.reply.value
  if (!reply) return <p class="quiet">{asked.error.value ?? 'Asking…'}</p>
  const { formula, instrument } = reply
  const own = hold.byId.get(figure)
  return (
    <div class="scene-explanation" data-explained={figure}>
      {formula && (
        <p class="formula">
          <FigureSymbol symbol={reply.figure.symbol} /> = <FormulaText text={formula.symbols} />
        </p>
      )}
      {formula?.numbers && (
        <p class="formula">
          = {formula.numbers} (SI units)
          {own && (
            <>
              {' '}
              = <SceneNumber hold={hold} figure={own} then={reply.value} />
            </>
          )}
        </p>
      )}
      {instrument && (
        <p>
          Measured by {instrument.name}, {instrument.accuracy}.
        </p>
      )}
      {reply.inputs.length > 0 && (
        <dl>
          {reply.inputs.map(({ symbol, figure: input, value }) => {
            const held = hold.byId.get(input.id)
            return (
              <div key={`${symbol} ${input.id}`}>
                <dt>
                  {input.name} <FigureSymbol symbol={symbol} />
                </dt>
                <dd>{held && <SceneNumber hold={hold} figure={held} then={value} />}</dd>
              </div>
            )
          })}
        </dl>
      )}
    </div>
  )
}
