import { useSignal } from '@preact/signals'
import type { ManualPointRequest, TypedMeans } from '../../../server/wire/point.ts'
import { printUnit } from '../../../server/wire/units.ts'
import { Panel } from '../parts/panel.tsx'
import type { PointRunProps } from './runProps.ts'
import { TextField } from './textField.tsx'

interface Asked {
  name: string
  label: string
  unit: string
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
export function TypedPanel({ reply: { trial, guidance }, actions }: PointRunProps) {
  const typed = trial.typed[0]
  const means = useSignal<TypedMeans | 'value'>(typed?.means[0] ?? 'value')
  const figure = trial.figures.find((one) => one.id === typed?.figure)
  if (!typed || !figure) return null
  const chosen = means.value
  const asked = chosen === 'value' ? [plainValue(figure)] : MEANS[chosen].asked

  async function send(event: SubmitEvent): Promise<void> {
    event.preventDefault()
    const element = event.currentTarget as HTMLFormElement
    const form = new FormData(element)
    const number = (key: string) => Number(String(form.get(key) ?? '').replace(',', '.'))
    const amount = ({ name, unit }: Asked) => ({ value: number(name), unit, u: number(`u-${name}`) })
    const request: ManualPointRequest = { by: String(form.get('by') ?? ''), figures: [], isPresent: true }
    if (chosen === 'value') request.figures = [{ figure: typed!.figure, ...amount(asked[0]!) }]
    else
      request.reading = {
        ...{ figure: typed!.figure, means: chosen },
        ...{ first: amount(asked[0]!), second: amount(asked[1]!) },
      }
    if (await actions.enter(request)) element.reset()
  }

  const isReady = guidance?.state === 'typing' || guidance?.state === 'duplicate'
  return (
    <Panel id="typed" title={`${typed.name}, read by hand`}>
      <p class="hint" role="status">
        {isReady
          ? 'Steady: read it now and store the point.'
          : guidance?.state === 'captured'
            ? 'This state is stored. Set the next one.'
            : 'Wait until everything else is steady.'}
      </p>
      <form class="fields" onSubmit={(event) => void send(event)}>
        {typed.means.length > 0 && (
          <p class="field">
            <label for="typed-means">Read with</label>
            <select
              id="typed-means"
              value={chosen}
              onChange={({ currentTarget: { value } }) => {
                means.value = value as TypedMeans | 'value'
              }}
            >
              {typed.means.map((one) => (
                <option key={one} value={one}>
                  {MEANS[one].word}
                </option>
              ))}
              <option value="value">The value itself</option>
            </select>
          </p>
        )}
        {asked.flatMap(({ name, label }) => [
          <TextField
            key={`${chosen}-${name}`}
            id={`typed-${name}`}
            name={name}
            label={label}
            isRequired
            isNumber
          />,
          <TextField
            key={`${chosen}-u-${name}`}
            id={`typed-u-${name}`}
            name={`u-${name}`}
            label="Its standard uncertainty"
            value="0"
            isNumber
          />,
        ])}
        <TextField id="typed-by" name="by" label="Read by" isRequired />
        <button
          type="submit"
          class="press"
          data-action="enter-typed"
          aria-disabled={actions.isBusy.value || !isReady}
        >
          Store the point
        </button>
      </form>
    </Panel>
  )
}

function plainValue({ name, viewUnit }: { name: string; viewUnit: string }): Asked {
  return { name: 'first', label: `${name} [${printUnit(viewUnit)}]`, unit: viewUnit }
}
