import { useSignal } from '@preact/signals'
import type { QuestionView } from '../../../server/wire/lesson.ts'
import { deskRequests } from '../../connect/lessonRequests.ts'
import { counted } from '../../format/words.ts'
import { Button } from '../parts/button.tsx'
import { ChoiceField, sent } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import type { DeskProps } from './joinPanel.tsx'
import { RevealStrip } from './revealStrip.tsx'

/** Ready questions; one may write another. */
const READY = [
  'What will it be with one jet shut?',
  'What will it be with one jet more?',
  'What will it be when the load is switched off?',
  'What is it now?',
]

/** Predict and reveal. */
export function DeskQuestion(props: DeskProps) {
  const { desk, hold } = props
  const last = desk.questions.at(-1)
  const isOpen = desk.code !== null
  return (
    <Panel id="desk-question" title="Predict and reveal">
      {last && <Asked question={last} {...props} />}
      {isOpen && last?.state !== 'asked' && <AskQuestion {...props} />}
      {desk.questions.length > 1 && (
        <details class="fold">
          <summary>Earlier questions</summary>
          {desk.questions.slice(0, -1).map((one) => (
            <div key={one.number}>
              <p>
                {one.number}: {one.text}
              </p>
              <RevealStrip question={one} hold={hold} />
            </div>
          ))}
        </details>
      )}
    </Panel>
  )
}

function Asked({ question, desk, hold, act }: DeskProps & { question: QuestionView }) {
  const id = desk.lesson.id
  const { number, text, state, predicted } = question
  return (
    <div data-question={number} data-question-state={state}>
      <p class="question-text">
        {number}: {text}
      </p>
      <p>
        {hold.byId.get(question.figure)?.description.name ?? question.figure} · {predicted} of{' '}
        {counted(desk.groups.length, 'group')} predicted
        {state === 'closed' && ' · closed'}
      </p>
      <RevealStrip question={question} hold={hold} />
      {state !== 'revealed' && desk.code !== null && (
        <p class="buttons question-deeds">
          {state === 'asked' && (
            <Button action="close" onClick={() => act(deskRequests.closeQuestion(id, number))}>
              Close predictions
            </Button>
          )}
          <Reveal desk={desk} act={act} question={number} />
        </p>
      )}
    </div>
  )
}

function AskQuestion({ desk, hold, act }: DeskProps) {
  const text = useSignal('')
  const figures = hold.figures.filter(({ description }) => !description.discrete)
  const keys = hold.view.keyFigures
  const sorted = [...figures].sort(
    (a, b) => Number(keys.includes(b.description.id)) - Number(keys.includes(a.description.id)),
  )
  const send = sent(async (typed) => {
    if (await act(deskRequests.ask(desk.lesson.id, typed('text'), typed('figure')))) text.value = ''
  })
  return (
    <form class="form-pair" onSubmit={send}>
      <ChoiceField
        id="question-figure"
        name="figure"
        label="Figure to hide and ask for"
        options={sorted.map(({ description }) => description)}
      />
      <p class="field">
        <label for="question-text">Question</label>
        <input
          id="question-text"
          name="text"
          required
          minLength={3}
          maxLength={200}
          autocomplete="off"
          list="ready-questions"
          value={text.value}
          onInput={({ currentTarget: { value } }) => (text.value = value)}
        />
        <datalist id="ready-questions">
          {READY.map((one) => (
            <option key={one} value={one} />
          ))}
        </datalist>
      </p>
      <Button type="submit" action="ask">
        Hide and ask
      </Button>
    </form>
  )
}

/** Reveals what is measured now, or what was measured at a point of the run. */
function Reveal({ desk, act, question }: Pick<DeskProps, 'desk' | 'act'> & { question: number }) {
  const point = useSignal('')
  const chosen = desk.points.find((one) => String(one.number) === point.value) ?? null
  const at = chosen && { run: chosen.run, number: chosen.number }
  return (
    <>
      {desk.points.length > 0 && (
        <ChoiceField
          id="reveal-point"
          label="Reveal"
          value={point.value}
          options={[
            { id: '', name: 'as it is now' },
            ...desk.points.map((one) => ({
              id: String(one.number),
              name: `point ${one.number}, ${one.setting}`,
            })),
          ]}
          choose={(id) => (point.value = id)}
        />
      )}
      <Button action="reveal" onClick={() => act(deskRequests.reveal(desk.lesson.id, question, at))}>
        Reveal
      </Button>
    </>
  )
}
