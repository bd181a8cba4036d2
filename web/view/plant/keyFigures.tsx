import type { FigureHold } from '../../hold/plantHold.ts'
import { FigureLink } from '../parts/button.tsx'
import { FigureAge, FigureNumber, figureText, Reason } from '../parts/figureNumber.tsx'
import { Panel } from '../parts/panel.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import type { PlantProps } from './plantProps.ts'

/** The few figures that tell most, large. */
export function KeyFigures(props: PlantProps) {
  const { view, byId } = props.hold
  const figures = view.keyFigures.flatMap((id) => byId.get(id) ?? [])
  if (figures.length === 0) return null
  return (
    <Panel id="key" title="Key figures">
      <ul class="key-figures">
        {figures.map((figure) => (
          <KeyFigure key={figure.description.id} figure={figure} {...props} />
        ))}
      </ul>
    </Panel>
  )
}

function KeyFigure({ figure, connection, open }: PlantProps & { figure: FigureHold }) {
  const { id, name, symbol } = figure.description
  return (
    <li class="key-figure">
      <p class="key-name">
        <FigureLink figure={id} open={open}>
          {name}
        </FigureLink>
        <FigureSymbol symbol={symbol} />
      </p>
      <div>
        <FigureNumber figure={figure} brief />
        <BandBar figure={figure} />
        <p class="key-foot">
          <Uncertainty figure={figure} />
          <FigureAge figure={figure} connection={connection} />
        </p>
        <Reason figure={figure} />
      </div>
    </li>
  )
}

/** Under the number, where there is room for it. */
function Uncertainty({ figure }: { figure: FigureHold }) {
  const { uncertainty } = figureText(figure, figure.value.value)
  return <span class="uncertainty">{uncertainty && `± ${uncertainty}`}</span>
}

/** Where the value stands in its normal band; nothing for a figure without a band. */
function BandBar({ figure }: { figure: FigureHold }) {
  const { low, high, rated } = figure.description
  const top = high ?? rated
  if (top === undefined) return null
  const bottom = Math.min(0, low ?? 0)
  const end = bottom + (Math.max(top, rated ?? top) - bottom) * 1.2
  const share = (value: number) =>
    `${(100 * Math.min(1, Math.max(0, (value - bottom) / (end - bottom)))).toFixed(1)}%`
  const value = figure.value.value.value
  return (
    <div class="band-bar" aria-hidden="true">
      <span class="band-normal" style={{ left: share(low ?? bottom), right: `calc(100% - ${share(top)})` }} />
      {rated !== undefined && <span class="band-rated" style={{ left: share(rated) }} />}
      {value !== null && <span class="band-marker" style={{ left: share(value) }} />}
    </div>
  )
}
