import { printUnit } from '../../../server/wire/units.ts'
import { Panel } from '../parts/panel.tsx'
import type { RunProps } from './runProps.ts'
import { TextField } from './textField.tsx'

/** A point that somebody read from other instruments. */
export function ManualPanel({ reply: { trial }, hold, actions }: RunProps) {
  const figures = trial.needs.flatMap((need) => trial.figures.find(({ id }) => id === need.figure) ?? [])
  const drawn: string[] =
    trial.takes === 'points' ? [trial.abscissa, trial.ordinate] : [trial.main, trial.typedPoint?.figure ?? '']
  /** What is measured now, for everything but the two that the curve is drawn of. */
  const present = (id: string) => {
    const figure = hold.byId.get(id)
    const value = figure?.value.peek().value
    return drawn.includes(id) || !figure || value == null
      ? ''
      : String(Number(figure.unit.value(value).toPrecision(5)))
  }

  async function send(event: SubmitEvent): Promise<void> {
    event.preventDefault()
    const element = event.currentTarget as HTMLFormElement
    const form = new FormData(element)
    const number = (key: string) => Number(String(form.get(key) ?? '').replace(',', '.'))
    const isSent = await actions.enter({
      by: String(form.get('by') ?? ''),
      figures: figures.map(({ id, viewUnit }) => ({
        figure: id,
        value: number(id),
        unit: viewUnit,
        u: number(`u-${id}`),
      })),
    })
    if (isSent) element.reset()
  }

  return (
    <Panel id="manual" title={trial.takes === 'traces' ? 'Type what is known' : 'Enter a point by hand'}>
      <details class="fold">
        <summary>For values read from other instruments</summary>
        {trial.takes === 'traces' && <p class="hint">{trial.typedPoint?.words}</p>}
        <form class="fields" onSubmit={(event) => void send(event)}>
          {figures.flatMap(({ id, name, viewUnit }) => [
            <TextField
              key={id}
              id={`manual-${id}`}
              name={id}
              label={`${name} [${printUnit(viewUnit)}]`}
              value={present(id)}
              isRequired
              isNumber
            />,
            <TextField
              key={`u-${id}`}
              id={`manual-u-${id}`}
              name={`u-${id}`}
              label="Its standard uncertainty"
              value="0"
              isNumber
            />,
          ])}
          <TextField id="manual-by" name="by" label="Read by" isRequired />
          <button type="submit" class="press" aria-disabled={actions.isBusy.value}>
            Store the point
          </button>
        </form>
      </details>
    </Panel>
  )
}
