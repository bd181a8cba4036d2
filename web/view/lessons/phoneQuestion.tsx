import type { QuestionView, SeatReply } from '../../../server/wire/lesson.ts'
import { useDeed } from '../../connect/deed.ts'
import { seatRequests } from '../../connect/lessonRequests.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Button } from '../parts/button.tsx'
import { Field, sent } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import { Refused } from '../parts/refusal.tsx'
import { RevealStrip, withUnit } from './revealStrip.tsx'

interface QuestionProps {
  question: QuestionView
  hold: PlantHold
  reply: SeatReply
  again: () => void
}

/** The question of the moment: predict, wait, or see what came of it. */
export function PhoneQuestion(props: QuestionProps) {
  const { question, hold } = props
  const figure = hold.byId.get(question.figure)
  if (!figure) return null
  const own = ownOf(props)
  return (
    <Panel id="question" title={`Question ${question.number}`}>
      <p class="question-text">{question.text}</p>
      {own && (
        <p data-own-prediction={own.value}>
          Your group predicts <b>{withUnit(figure, own.value, own.u)}</b>.
        </p>
      )}
      {question.state === 'asked' && <PredictForm {...props} />}
      {question.state === 'closed' && <p class="quiet">Predictions are closed. Wait for the reveal.</p>}
      {question.state === 'revealed' && (
        <RevealStrip question={question} hold={hold} own={own?.value ?? null} />
      )}
    </Panel>
  )
}

/** A reply may still be of the question before this one. */
function ownOf({ question, reply: { prediction } }: QuestionProps): SeatReply['prediction'] {
  return prediction?.question === question.number ? prediction : null
}

function PredictForm(props: QuestionProps) {
  const { question, hold, again } = props
  const { error, act } = useDeed()
  const figure = hold.byId.get(question.figure)!
  const { unit, description } = figure
  // The way back from the view unit, which is a straight line.
  const wire = (typed: number) => (typed - unit.value(0)) / (unit.value(1) - unit.value(0))
  const difference = (typed: number) => typed / unit.difference(1)

  const send = sent(async (typed) => {
    const [value, u] = ['value', 'u'].map((key) => readNumber(typed(key)))
    if (value === null || value === undefined || u === undefined) {
      error.value = 'Type a number, such as 0.7 or 380.'
      return
    }
    const prediction = seatRequests.predict({
      question: question.number,
      value: wire(value),
      ...(u === null ? {} : { u: difference(Math.abs(u)) }),
    })
    if (await act(prediction)) again()
  })

  return (
    <form class="form-pair" onSubmit={send}>
      <Field
        id="predict-value"
        label={`${description.name}${unit.print && ` [${unit.print}]`}`}
        name="value"
        inputMode="decimal"
        required
      />
      <Field id="predict-u" label="± (may stay empty)" name="u" inputMode="decimal" />
      <Button type="submit" action="predict">
        {ownOf(props) ? 'Change prediction' : 'Predict'}
      </Button>
      <Refused reason={error.value} />
    </form>
  )
}

/** Null for nothing, undefined for what is no number. A comma may stand for the point. */
export function readNumber(typed: string): number | null | undefined {
  const text = typed.trim().replace(',', '.').replace('\u2212', '-')
  if (text === '') return null
  const number = Number(text)
  return Number.isFinite(number) ? number : undefined
}
