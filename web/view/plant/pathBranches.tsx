import type { PathNode } from '../../../server/wire/plant.ts'
import { figureOf, largestPower, powerOf } from '../../hold/pathPower.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { bandShares } from '../../plot/bandShares.ts'
import { FigureNumber } from '../parts/figureNumber.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import type { PlantProps } from './plantProps.ts'

/** Where the power parts: one row for each branch, from a common bar, in the same scale as the band. */
export function BranchList({ branches, ...props }: PlantProps & { branches: PathNode[][] }) {
  return (
    <li class="path-branches">
      <ul>
        {branches.map((nodes) => (
          <li key={nodes[0]?.id} class="path-branch">
            <BranchBand node={nodes[0]!} hold={props.hold} />
            <ul class="branch-places">
              {nodes.map((node) => (
                <BranchPlace key={node.id} node={node} {...props} />
              ))}
            </ul>
          </li>
        ))}
      </ul>
    </li>
  )
}

function BranchBand({ node, hold }: { node: PathNode; hold: PlantProps['hold'] }) {
  const figure = figureOf(node, hold.byId)
  const [share] = bandShares([powerOf(figure)], largestPower(hold))
  // A negative power flows the other way: a battery that gives instead of taking.
  const isBack = (powerOf(figure) ?? 0) < 0
  const classes = [
    'branch-band',
    isBack && 'branch-back',
    figure?.value.value.quality !== 'good' && 'path-unsure',
  ]
  return (
    <div class={classes.filter(Boolean).join(' ')} style={{ '--share': `${share}` }}>
      <div class="path-band" />
    </div>
  )
}

function BranchPlace({ node, hold, open }: PlantProps & { node: PathNode }) {
  const figure = figureOf(node, hold.byId)
  return (
    <li data-node={node.id}>
      <div class="path-head">
        <h3>{node.name}</h3>
        {figure ? <FigureNumber figure={figure} brief /> : <p class="path-unknown">not measured</p>}
      </div>
      {node.details.length > 0 && (
        <dl class="branch-details">
          {node.details.map((id) => {
            const detail = hold.byId.get(id)
            return detail && <PathDetail key={id} figure={detail} open={open} />
          })}
        </dl>
      )}
    </li>
  )
}

export function PathDetail({ figure, open }: { figure: FigureHold; open: PlantProps['open'] }) {
  const { id, name, symbol } = figure.description
  return (
    <div>
      <dt>
        <button type="button" class="as-link" onClick={() => open(id)} title={name}>
          <FigureSymbol symbol={symbol} />
          <span class="spoken"> {name}</span>
        </button>
      </dt>
      <dd>
        <FigureNumber figure={figure} brief />
      </dd>
    </div>
  )
}
