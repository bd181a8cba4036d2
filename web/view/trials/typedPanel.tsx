import { useSignal } from '@preact/signals'
import { type ComponentChildren, Fragment } from 'preact'
import { figureOf, titleWithUnit } from '../../../server/wire/amounts.ts'
import type { FigureDescription } from '../../../server/wire/figure.ts'
import type { ManualPointRequest, TypedMeans } from '../../../server/wire/point.ts'
import type { PointGuidance } from '../../../server/wire/trial.ts'
import { Button } from '../parts/button.tsx'
import { ChoiceField, Field, sent } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import type { PointRunUnderWay, RunActions, RunProps } from './runActions.ts'

/** A value to be typed, with its standard uncertainty. */
interface Asked {
  name: string
  label: string
  unit: string
  value?: string
}

const MEANS: Record<TypedMeans, { word: string; asked: [Asked, Asked] }> = {
  bucket: {
    word: 'Bucket and watch',
    asked: [
      { name: 'first', label: 'Volume [L]', unit: 'L' },
      { name: 'second', label: 'Time [s]', unit: 's' },
    ],
  },
  springBalance: {
    word: 'Spring balance on an arm',
    asked: [
      { name: 'first', label: 'Force [N]', unit: 'N' },
      { name: 'second', label: 'Arm [m]', unit: 'm' },
    ],
  },
}

/** The one value that nobody measures: typed to the present steady state, all else comes from the instruments. */
export function TypedPanel({ reply: { trial, guidance }, actions }: RunProps<PointRunUnderWay>) {
  const typed = trial.typed[0]
  const means = useSignal<TypedMeans | 'value'>(typed?.means[0] ?? 'value')
  const figure = figureOf(trial, typed?.figure)
  if (!typed || !figure) return null
  const chosen = means.value
  const isReady = guidance.state === 'typing' || guidance.state === 'duplicate'
  const options = typed.means.map((id) => ({ id, name: MEANS[id].word }))
  return (
    <Panel id="typed" title={`${typed.name}, read by hand`}>
      <p class="hint" role="status">
        {advice(guidance.state)}
      </p>
      <EntryForm
        id="typed"
        asked={chosen === 'value' ? [askedOf(figure, 'first')] : MEANS[chosen].asked}
        isReady={isReady}
        actions={actions}
        requestOf={([first, second]) =>
          chosen === 'value'
            ? { figures: [{ figure: figure.id, ...first! }], isPresent: true }
            : {
                figures: [],
                isPresent: true,
                reading: { figure: figure.id, means: chosen, first: first!, second: second! },
              }
        }
      >
        {options.length > 0 && (
          <ChoiceField<TypedMeans | 'value'>
            id="typed-means"
            label="Read with"
            options={[...options, { id: 'value', name: 'The value itself' }]}
            value={chosen}
            choose={(id) => (means.value = id)}
          />
        )}
      </EntryForm>
    </Panel>
  )
}

function advice(state: PointGuidance['state']): string {
  if (state === 'typing' || state === 'duplicate') return 'Steady: read it now and store the point.'
  return state === 'captured'
    ? 'This state is stored. Set the next one.'
    : 'Wait until everything else is steady.'
}

/** A point that somebody read from other instruments. */
export function ManualPanel({ reply: { trial }, hold, actions }: RunProps) {
  const isOfTraces = trial.takes === 'traces'
  const figures = trial.needs.flatMap((need) => figureOf(trial, need.figure) ?? [])
  const drawn = isOfTraces ? [trial.main, trial.typedPoint?.figure] : [trial.abscissa, trial.ordinate]
  /** What is measured now, for everything but the two that the curve is drawn of. */
  const present = (id: string) => {
    const figure = hold.byId.get(id)
    const value = figure?.value.peek().value
    return drawn.includes(id) || !figure || value == null
      ? ''
      : String(Number(figure.unit.value(value).toPrecision(5)))
  }
  return (
    <Panel id="manual" title={isOfTraces ? 'Type what is known' : 'Enter a point by hand'}>
      <details class="fold">
        <summary>For values read from other instruments</summary>
        {isOfTraces && <p class="hint">{trial.typedPoint?.words}</p>}
        <EntryForm
          id="manual"
          asked={figures.map((figure) => ({ ...askedOf(figure, figure.id), value: present(figure.id) }))}
          isReady
          actions={actions}
          requestOf={(amounts) => ({
            figures: figures.map(({ id: figure }, i) => ({ figure, ...amounts[i]! })),
          })}
        />
      </details>
    </Panel>
  )
}

function askedOf(figure: FigureDescription, name: string): Asked {
  return { name, label: titleWithUnit(figure), unit: figure.viewUnit }
}

interface EntryFormProps {
  id: string
  asked: readonly Asked[]
  isReady: boolean
  actions: RunActions
  requestOf: (amounts: { value: number; unit: string; u: number }[]) => Omit<ManualPointRequest, 'measuredBy'>
  children?: ComponentChildren
}

/** Amounts that somebody read; empty again once the point is stored, under the name of who is signed in. */
function EntryForm({ id, asked, isReady, actions, requestOf, children }: EntryFormProps) {
  const send = sent(async (typed, form) => {
    const number = (key: string) => Number(typed(key).replace(',', '.'))
    const amounts = asked.map(({ name, unit }) => ({ value: number(name), unit, u: number(`u-${name}`) }))
    const measuredBy = typed('measuredBy')
    const point = { ...requestOf(amounts), ...(measuredBy === '' ? {} : { measuredBy }) }
    if (await actions.enter(point)) form.reset()
  })
  return (
    <form class="fields" onSubmit={send}>
      {children}
      {asked.map(({ name, label, value }) => (
        <Fragment key={`${label} ${name}`}>
          <Field
            id={`${id}-${name}`}
            name={name}
            label={label}
            defaultValue={value}
            required
            inputMode="decimal"
          />
          <Field
            id={`${id}-u-${name}`}
            name={`u-${name}`}
            label="Its standard uncertainty"
            defaultValue="0"
            inputMode="decimal"
          />
        </Fragment>
      ))}
      <Field id={`${id}-by`} name="measuredBy" label="Measured by, if somebody else" maxLength={80} />
      <Button type="submit" action={`enter-${id}`} aria-disabled={actions.isBusy.value || !isReady}>
        Store the point
      </Button>
    </form>
  )
}
