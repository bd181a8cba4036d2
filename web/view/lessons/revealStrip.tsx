import type { QuestionView, RevealView } from '../../../server/wire/lesson.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import { counted } from '../../format/words.ts'
import type { FigureHold, PlantHold } from '../../hold/plantHold.ts'
import { stripDots } from '../../plot/dotStrip.ts'

const DOT = 0.036
const WIDTH = 500
const BASE = 110

interface StripProps {
  question: QuestionView
  hold: PlantHold
  /** Wire value of the own prediction, to be marked. */
  own?: number | null
}

/** What the class predicted against the true figure: a strip of dots, and the same in words. */
export function RevealStrip({ question, hold, own = null }: StripProps) {
  const figure = hold.byId.get(question.figure)
  const { reveal } = question
  if (!reveal || !figure) return null
  return (
    <div class="reveal" data-reveal={question.number}>
      <Strip reveal={reveal} figure={figure} own={own} />
      <p class="reveal-truth">
        {figure.description.name}:{' '}
        <b class="number">{withUnit(figure, reveal.truth.value, reveal.truth.u95)}</b>
        {reveal.truth.point && ` at point ${reveal.truth.point.number}`}
        {reveal.truth.setting && `, ${reveal.truth.setting}`}
      </p>
      <p>{summaryOf(reveal, figure)}</p>
    </div>
  )
}

function summaryOf(reveal: RevealView, figure: FigureHold): string {
  const { predictions, mean, median, within, covering, withOwnRange, truth } = reveal
  if (predictions.length === 0) return 'No group predicted.'
  const number = (value: number) => roundedLike(figure, value, truth.u95)
  const inside =
    truth.u95 === null
      ? 'The figure has no stated uncertainty.'
      : `${within} of ${predictions.length} within its 95 % interval.`
  const own = withOwnRange > 0 ? ` ${covering} of ${withOwnRange} own ranges hold the true figure.` : ''
  return `${counted(predictions.length, 'prediction')}: mean ${number(mean!)}, median ${number(median!)}. ${inside}${own}`
}

/** A wire value as read, "384.2 ± 1.9 W". */
export function withUnit({ unit }: FigureHold, value: number, u95: number | null): string {
  const { text, uncertainty } = formatNumber(unit.value(value), {
    u95: u95 === null ? undefined : unit.difference(u95),
  })
  return `${text}${uncertainty ? ` ± ${uncertainty}` : ''} ${unit.print}`.trim()
}

/** With the digits that the true figure has, but without its ±. */
function roundedLike({ unit }: FigureHold, value: number, u95: number | null): string {
  const { text } = formatNumber(unit.value(value), { u95: u95 === null ? undefined : unit.difference(u95) })
  return `${text} ${unit.print}`.trim()
}

function Strip({ reveal, figure, own }: { reveal: RevealView; figure: FigureHold; own: number | null }) {
  const { truth, predictions, mean } = reveal
  const half = truth.u95 ?? 0
  const { dots, low, high } = stripDots(predictions, [truth.value - half, truth.value + half], DOT)
  const at = (value: number) => (WIDTH * (value - low)) / (high - low)
  const radius = (WIDTH * DOT) / 2 - 1
  return (
    <svg class="strip" viewBox={`0 0 ${WIDTH} 188`} role="img" aria-label={summaryOf(reveal, figure)}>
      <rect
        class="strip-interval"
        x={at(truth.value - half)}
        y="10"
        width={Math.max(3, at(truth.value + half) - at(truth.value - half))}
        height={BASE}
      />
      <line class="strip-truth" x1={at(truth.value)} x2={at(truth.value)} y1="4" y2={BASE + 16} />
      <line class="strip-axis" x1="0" x2={WIDTH} y1={BASE + 10} y2={BASE + 10} />
      {dots.map(({ share, level }, i) => (
        <circle
          key={`${i} ${share}`}
          class={predictions[i] === own ? 'strip-dot strip-own' : 'strip-dot'}
          cx={share * WIDTH}
          cy={BASE - radius - level * 2 * (radius + 1)}
          r={radius}
        />
      ))}
      {mean !== null && <path class="strip-mean" d={`M${at(mean)} ${BASE + 12}l-12 22h24z`} />}
      <text
        x={at(truth.value)}
        y="180"
        text-anchor={
          at(truth.value) > WIDTH * 0.8 ? 'end' : at(truth.value) < WIDTH * 0.2 ? 'start' : 'middle'
        }
      >
        measured {roundedLike(figure, truth.value, truth.u95)}
      </text>
    </svg>
  )
}
