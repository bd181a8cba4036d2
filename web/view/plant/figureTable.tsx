import { groupWords, qualityLetters } from '../../format/words.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { FigureAge, figureText, Reason } from '../parts/figure.tsx'
import { Fold } from '../parts/fold.tsx'
import { Panel } from '../parts/panel.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import type { PlantProps } from './plantProps.ts'

/** Every figure of the plant, by group, with quality and age; then what cannot be known and why. */
export function FigurePanel(props: PlantProps) {
  const { figures, view } = props.hold
  return (
    <Panel id="figures" title="All figures">
      <div class="figure-groups">
        {groupWords.map(([group, title]) => {
          const members = figures.filter(({ description }) => description.group === group)
          return (
            members.length > 0 && (
              <Fold key={group} title={title} note={<CountNote figures={members} />}>
                <FigureTable title={title} figures={members} {...props} />
              </Fold>
            )
          )
        })}
      </div>
      {view.missing.length > 0 && (
        <details class="fold">
          <summary>Not available at this plant ({view.missing.length})</summary>
          <ul class="missing">
            {view.missing.map(({ id, name, needs }) => (
              <li key={id}>
                <b>{name}</b> {needs}
              </li>
            ))}
          </ul>
        </details>
      )}
    </Panel>
  )
}

/** A part of its own: it is drawn anew when a quality changes, the tables are not. */
function CountNote({ figures }: { figures: FigureHold[] }) {
  const doubtful = figures.filter((figure) => figure.value.value.quality !== 'good').length
  return (
    <>{doubtful === 0 ? `${figures.length} figures` : `${figures.length} figures, ${doubtful} not good`}</>
  )
}

type FigureTableProps = PlantProps & { title: string; figures: FigureHold[] }

function FigureTable({ title, figures, session, open }: FigureTableProps) {
  return (
    <table class="figures">
      <caption class="spoken">{title}</caption>
      <thead>
        <tr>
          <th scope="col" class="group-title">
            {title}
          </th>
          <th scope="col" class="at-right">
            Value
          </th>
          <th scope="col">Unit</th>
          <th scope="col">Quality</th>
          <th scope="col" class="at-right">
            Age
          </th>
        </tr>
      </thead>
      <tbody>
        {figures.map((figure) => (
          <tr key={figure.description.id}>
            <FigureHead figure={figure} open={open} />
            <ValueCells figure={figure} />
            <td class="at-right">
              <FigureAge figure={figure} session={session} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function FigureHead({ figure, open }: { figure: FigureHold; open: PlantProps['open'] }) {
  const { id, name, symbol } = figure.description
  return (
    <th scope="row">
      <button type="button" class="as-link" onClick={() => open(id)} data-open={id}>
        {name}
      </button>{' '}
      <FigureSymbol symbol={symbol} />
      <Reason figure={figure} />
    </th>
  )
}

function ValueCells({ figure }: { figure: FigureHold }) {
  const value = figure.value.value
  const { text, uncertainty } = figureText(figure, value)
  return (
    <>
      <td class="at-right">
        <span
          class={`value quality-${value.quality}`}
          data-figure={figure.description.id}
          data-quality={value.quality}
          data-wire={value.value ?? ''}
        >
          <span class="number">{text}</span>
          {uncertainty && <span class="uncertainty"> ± {uncertainty}</span>}
        </span>
      </td>
      <td class="unit">{figure.unit.print}</td>
      <td>
        {value.quality !== 'good' && (
          <span class={`mark mark-${value.quality}`} aria-hidden="true">
            {qualityLetters[value.quality]}
          </span>
        )}
        <span class={value.quality === 'good' ? 'quiet' : 'quality-word'}>{value.quality}</span>
      </td>
    </>
  )
}
