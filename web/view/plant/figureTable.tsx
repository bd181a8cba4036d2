import { Fragment } from 'preact'
import { counted, groupWords, qualityLetters } from '../../format/words.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { FigureLink } from '../parts/button.tsx'
import { DoubtList } from '../parts/doubtList.tsx'
import { FigureAge, FigureValueText, Reason } from '../parts/figureNumber.tsx'
import { Fold } from '../parts/fold.tsx'
import { Panel } from '../parts/panel.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import { TableHead } from '../parts/wideTable.tsx'
import type { PlantProps } from './plantProps.ts'

/** Read by themselves only when something is looked into. */
const REST = 'Constants, coefficients and comparisons'

/** Every figure of the plant, by group, with quality and age; then what cannot be known and why. */
export function FigurePanel(props: PlantProps) {
  const { figures, view } = props.hold
  const rest = figures.filter(({ description }) => description.background)
  return (
    <Panel id="figures" title="All figures">
      <div class="figure-groups">
        {groupsOf(figures).map(({ title, members }) => (
          <Fold key={title} title={title} note={<CountNote figures={members} />}>
            <FigureTable title={title} figures={members} {...props} />
          </Fold>
        ))}
      </div>
      {rest.length > 0 && (
        <Fold title={REST} note={<CountNote figures={rest} />} always>
          <FigureTable title={REST} figures={rest} {...props} />
        </Fold>
      )}
      {view.doubts.length > 0 && (
        <details class="fold" data-doubts>
          <summary>
            <b>Commissioning check</b> <span class="fold-note">{counted(view.doubts.length, 'place')}</span>
          </summary>
          <DoubtList doubts={view.doubts} />
        </details>
      )}
      {view.missing.length > 0 && (
        <details class="fold">
          <summary>
            <b>Not available at this plant</b>{' '}
            <span class="fold-note">{counted(view.missing.length, 'figure')}</span>
          </summary>
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

function groupsOf(figures: FigureHold[]): { title: string; members: FigureHold[] }[] {
  return groupWords
    .map(([group, title]) => ({
      title,
      members: figures.filter(
        (figure) => figure.description.group === group && !figure.description.background,
      ),
    }))
    .filter(({ members }) => members.length > 0)
}

/** A part of its own: it is drawn anew when a quality changes, the tables are not. */
function CountNote({ figures }: { figures: FigureHold[] }) {
  const doubtful = figures.filter((figure) => figure.value.value.quality !== 'good').length
  const all = counted(figures.length, 'figure')
  return <>{doubtful === 0 ? all : `${all}, ${doubtful} not good`}</>
}

type FigureTableProps = PlantProps & { title: string; figures: FigureHold[] }

function FigureTable({ title, figures, connection, open }: FigureTableProps) {
  return (
    <table class="figures">
      <caption class="spoken">{title}</caption>
      <TableHead
        heads={[
          title,
          '#Value',
          'Unit',
          <span class="spoken" key="quality">
            Quality
          </span>,
          '#Age',
        ]}
      />
      <tbody>
        {figures.map((figure) => (
          <Fragment key={figure.description.id}>
            <tr>
              <FigureHead figure={figure} open={open} />
              <ValueCells figure={figure} />
              <td class="at-right">
                <FigureAge figure={figure} connection={connection} />
              </td>
            </tr>
            <ReasonRow figure={figure} />
          </Fragment>
        ))}
      </tbody>
    </table>
  )
}

function FigureHead({ figure, open }: { figure: FigureHold; open: PlantProps['open'] }) {
  const { id, name, symbol } = figure.description
  return (
    <th scope="row">
      <FigureLink figure={id} open={open}>
        {name} <FigureSymbol symbol={symbol} />
      </FigureLink>
    </th>
  )
}

/** Below its figure, over the whole width: a reason is a sentence. */
function ReasonRow({ figure }: { figure: FigureHold }) {
  if (figure.value.value.quality === 'good') return null
  return (
    <tr class="reason-row">
      <td colSpan={5}>
        <Reason figure={figure} />
      </td>
    </tr>
  )
}

function ValueCells({ figure }: { figure: FigureHold }) {
  const { quality } = figure.value.value
  return (
    <>
      <td class="at-right">
        <FigureValueText figure={figure} />
      </td>
      <td class="unit">{figure.unit.print}</td>
      <td>
        {quality !== 'good' && (
          <span class={`mark mark-${quality}`} aria-hidden="true">
            {qualityLetters[quality]}
          </span>
        )}
        <span class="spoken">{quality}</span>
      </td>
    </>
  )
}
