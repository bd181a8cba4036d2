import { median } from '../statistics/quantiles.ts'
import type { QuestionView, RevealView, Truth } from '../wire/lesson.ts'
import type { Prediction, RecordStore } from './recordStore.ts'

/** The questions of a lesson, in the order in which they were asked. Until one is revealed nothing goes out but how many have predicted. */
export function questionsOf(records: RecordStore, lesson: number): QuestionView[] {
  return records.questions(lesson).map(({ number, text, figure, state, truth }) => {
    const predictions = records.predictions(lesson, number)
    return {
      number,
      text,
      figure,
      state,
      predicted: predictions.length,
      reveal: truth && state === 'revealed' ? revealOf(truth, predictions) : null,
    }
  })
}

/**
 * What a class predicted against the true figure. Within: inside value ± U95 of the true figure, ends included; a
 * figure without a stated uncertainty has nothing within but what equals it.
 */
export function revealOf(truth: Truth, predictions: readonly Prediction[]): RevealView {
  const values = predictions.map(({ value }) => value).sort((a, b) => a - b)
  const ranged = predictions.filter(({ u }) => u !== null)
  const half = truth.u95 ?? 0
  return {
    truth,
    predictions: values,
    mean: values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length,
    median: values.length === 0 ? null : median(values),
    within: values.filter((value) => Math.abs(value - truth.value) <= half).length,
    covering: ranged.filter(({ value, u }) => Math.abs(value - truth.value) <= u!).length,
    withOwnRange: ranged.length,
  }
}
