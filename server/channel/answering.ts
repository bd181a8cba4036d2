import type { Tell } from '../log.ts'
import { type Outcome, refuse } from '../outcome.ts'
import type { Answer, ToWatch } from './messages.ts'
import type { Answers } from './questions.ts'

/** More questions than the page side ever has under way: one that is out of order is refused. */
const MOST_UNDER_WAY = 64

/** Answers what the page side asks; a question that cannot be answered is refused, and harms nothing. */
export function createAnswering(answers: Answers, post: (message: Answer) => void, tell: Tell) {
  let underWay = 0
  return async ({ id, question, asked }: Extract<ToWatch, { kind: 'question' }>): Promise<void> => {
    if (underWay >= MOST_UNDER_WAY || !Object.hasOwn(answers, question)) {
      post({ kind: 'answer', id, outcome: refuse(503, 'The watch cannot take this question.') })
      return
    }
    underWay++
    post({ kind: 'answer', id, outcome: await outcomeOf(() => answers[question](asked as never), tell) })
    underWay--
  }
}

async function outcomeOf(
  answer: () => Outcome<unknown> | Promise<Outcome<unknown>>,
  tell: Tell,
): Promise<Outcome<unknown>> {
  try {
    return await answer()
  } catch (error) {
    tell('watch: a question could not be answered', 'error', error)
    return refuse(500, 'The server could not answer. Its log says why.')
  }
}
