import { explainFigure } from '../derive/explain.ts'
import type { LivePlant } from '../livePlant.ts'
import { granted, type Outcome, refuse } from '../outcome.ts'
import type { ExplainReply } from '../wire/explain.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { LessonUnderWay } from './lessonUnderWay.ts'

/**
 * Where a figure comes from, with the numbers that the class sees. The formula is given without numbers where they
 * would be those of another moment (frozen, replayed) or of something hidden.
 */
export function explainShown(
  lesson: LessonUnderWay,
  live: LivePlant | undefined,
  figure: string,
): Outcome<ExplainReply> {
  const scene = lesson.scene.scene()
  const whole = live && explainFigure(live.plan, live.evaluator, figure)
  if (!scene || !whole) return refuse(404, `This plant has no figure "${figure.slice(0, 64)}".`)
  const shown = (id: string) => {
    const index = scene.view.figures.findIndex((one) => one.id === id)
    return index < 0 ? NOT_THERE : scene.value(index)
  }
  const isHiding = lesson.scene.concealed().size > 0
  const isNow = lesson.scene.source()?.id === lesson.plant && lesson.arrangement().frozen === null
  const { formula, inputs } = whole
  return granted({
    ...whole,
    ...(formula ? { formula: { ...formula, numbers: isNow && !isHiding ? formula.numbers : null } } : {}),
    value: shown(figure),
    inputs: inputs.map((input) => ({ ...input, value: shown(input.figure.id) })),
    uncertaintyShares: isNow && !isHiding ? whole.uncertaintyShares : [],
  })
}

const NOT_THERE: FigureValue = { value: null, at: null, quality: 'bad', reasons: ['not in what is shown'] }
