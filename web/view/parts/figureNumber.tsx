import type { ComponentChildren } from 'preact'
import type { FigureValue } from '../../../server/wire/figure.ts'
import { formatNumber, type NumberText } from '../../../server/wire/numbers.ts'
import type { UnitView } from '../../../server/wire/units.ts'
import type { Connection } from '../../connect/connection.ts'
import { ageWords, roughDuration } from '../../format/age.ts'
import { qualityLetters, stateWord } from '../../format/words.ts'
import type { FigureHold } from '../../hold/plantHold.ts'

/** Number and uncertainty of a figure as read, in its view unit. */
export function figureText(
  { description, unit }: Pick<FigureHold, 'description' | 'unit'>,
  value: FigureValue,
): NumberText {
  const word =
    description.discrete && value.value !== null ? stateWord(description.id, value.value) : undefined
  return word === undefined ? numberText(value, unit, description.rated) : { text: word }
}

/** A drawn mean, in the view unit already. A state is named only where it held all the time. */
export function meanText({ description, unit, value }: FigureHold, mean: number | null | undefined): string {
  const word = description.discrete && mean != null ? stateWord(description.id, mean) : undefined
  const { u95 } = value.peek()
  return (
    word ?? formatNumber(mean ?? null, { u95: u95 === undefined ? undefined : unit.difference(u95) }).text
  )
}

/** The same of any value that is read in a unit. */
export function numberText(value: FigureValue, unit: UnitView, rated?: number): NumberText {
  return formatNumber(value.value === null ? null : unit.value(value.value), {
    u95: value.u95 === undefined ? undefined : unit.difference(value.u95),
    usual: rated === undefined ? undefined : unit.value(rated),
  })
}

export interface FigureProps {
  figure: FigureHold
  /** Leaves out the ± where there is no room; the details have it. */
  brief?: boolean
  /** Its value at another moment than now. */
  then?: FigureValue
}

/** A number as text with its ±, where it has one. */
export function Amount({ text, uncertainty }: NumberText) {
  return (
    <>
      {text}
      {uncertainty && <span class="uncertainty"> ± {uncertainty}</span>}
    </>
  )
}

/** Number, ±, unit and quality mark of one figure. The only part that is drawn anew when it changes. */
export function FigureNumber({ figure, brief = false, then }: FigureProps) {
  const value = then ?? figure.value.value
  return (
    <FigureValueText figure={figure} brief={brief} then={value}>
      {figure.unit.print && <span class="unit"> {figure.unit.print}</span>}
      <QualityMark value={value} />
    </FigureValueText>
  )
}

/** Number and ± of one figure, and what stands behind them. */
export function FigureValueText({
  figure,
  brief = false,
  then,
  children,
}: FigureProps & { children?: ComponentChildren }) {
  const value = then ?? figure.value.value
  const { text, uncertainty } = figureText(figure, value)
  return (
    <span
      class={`value quality-${value.quality}`}
      data-figure={figure.description.id}
      data-quality={value.quality}
      data-wire={value.value ?? ''}
    >
      <span class="number">{text}</span>
      {uncertainty && !brief && <span class="uncertainty"> ± {uncertainty}</span>}
      {children}
    </span>
  )
}

/** "?" or "B" with its reason on a patterned ground; nothing when the value is good. */
export function QualityMark({ value }: { value: FigureValue }) {
  if (value.quality === 'good') return null
  const spoken = `${value.quality}: ${reasonText(value)}`
  return (
    <span class={`mark mark-${value.quality}`} title={spoken}>
      <span aria-hidden="true">{qualityLetters[value.quality]}</span>
      <span class="spoken"> {spoken}</span>
    </span>
  )
}

export function reasonText(value: FigureValue): string {
  return value.reasons.join('; ') || 'no reason given'
}

/** The reason in view, under a number that is not good. */
export function Reason({ figure }: { figure: FigureHold }) {
  const value = figure.value.value
  if (value.quality === 'good') return null
  return (
    <span class="reason">
      <b>{value.quality}</b>: {reasonText(value)}
    </span>
  )
}

/** How old a figure is; counts on by itself while nothing comes. */
export function FigureAge({ figure, connection }: { figure: FigureHold; connection: Connection }) {
  const { at, value } = figure.value.value
  const now = connection.now.value
  const isOld = at !== null && now - at > (figure.description.staleAfterMs ?? Number.POSITIVE_INFINITY)
  return (
    <span class={isOld ? 'age age-old' : 'age'} data-age={at === null ? '' : Math.round((now - at) / 1000)}>
      {at === null && value !== null ? 'fixed' : ageWords(at, now, roughDuration)}
    </span>
  )
}
