import { useMemo } from 'preact/hooks'
import { formatNumber } from '../../../server/wire/numbers.ts'
import type { PathNode } from '../../../server/wire/plant.ts'
import { figureOf, largestPower, powerOf } from '../../hold/pathPower.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { bandShares, pathLayout } from '../../plot/pathBands.ts'
import { FigureLink } from '../parts/button.tsx'
import { Fact } from '../parts/fact.tsx'
import { Amount, FigureNumber } from '../parts/figureNumber.tsx'
import { Panel } from '../parts/panel.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import type { PlantProps } from './plantProps.ts'

/** The way of the power from the water to the loads: the band is as wide as the power is large. */
export function PowerPath(props: PlantProps) {
  const { path } = props.hold.view
  const { trunk, branches } = useMemo(() => pathLayout(path), [path])
  if (trunk.length === 0) return null
  return (
    <Panel id="path" title="Power from water to load">
      <ol class="path">
        {trunk.map((node, i) => (
          <PathStep
            key={node.id}
            node={node}
            trunk={trunk}
            {...props}
            isEnd={i === trunk.length - 1 && branches.length === 0}
          />
        ))}
        {branches.length > 0 && <BranchList branches={branches} {...props} />}
      </ol>
    </Panel>
  )
}

type StepProps = PlantProps & { node: PathNode; trunk: PathNode[]; isEnd: boolean }

function PathStep({ node, trunk, isEnd, hold, open }: StepProps) {
  return (
    <li class="path-step" data-node={node.id}>
      <PathHead node={node} hold={hold} />
      <PathBand node={node} trunk={trunk} isEnd={isEnd} hold={hold} open={open} />
      <PathDetails place="path" node={node} hold={hold} open={open} />
    </li>
  )
}

/** Band from this place to the next, and the difference between the two in words. */
function PathBand({
  node,
  trunk,
  isEnd,
  hold,
  open,
}: Pick<StepProps, 'node' | 'trunk' | 'isEnd' | 'hold' | 'open'>) {
  const row = trunk.indexOf(node)
  const here = figureOf(node, hold.byId)
  const there = trunk[row + 1] && figureOf(trunk[row + 1]!, hold.byId)
  const lost = hold.byId.get(trunk[row + 1]?.loss ?? '')
  const powers = trunk.map((step) => powerOf(figureOf(step, hold.byId)))
  const shares = bandShares(powers, largestPower(hold))
  const from = shares[row]!
  const to = isEnd ? 0 : (shares[row + 1] ?? from)
  // A machine that is driven by the grid: the tip points at it.
  const isBack = isEnd && (powers[row] ?? 0) < 0
  const classes = ['path-room', isBack && 'path-back', here?.value.value.quality !== 'good' && 'path-unsure']
  return (
    <div class={classes.filter(Boolean).join(' ')}>
      <div class="path-band" style={{ '--from': `${from}`, '--to': `${to}` }} />
      {lost ? <Lost figure={lost} open={open} /> : here && there && <Difference here={here} there={there} />}
    </div>
  )
}

/** What is lost on the way, as the server has it: with its uncertainty, and a click explains it. */
function Lost({ figure, open }: { figure: FigureHold; open: PlantProps['open'] }) {
  const { id, name } = figure.description
  const { value, u95, quality } = figure.value.value
  const lost = formatNumber(value === null ? null : figure.unit.value(-value), {
    u95: u95 === undefined ? undefined : figure.unit.difference(u95),
  })
  return (
    <p class={`path-difference quality-${quality}`}>
      <FigureLink figure={id} open={open} title={name}>
        <span class="spoken">{name}: </span>
        <Amount {...lost} /> {figure.unit.print}
      </FigureLink>
    </p>
  )
}

function Difference({ here, there }: { here: FigureHold; there: FigureHold }) {
  const [from, to] = [powerOf(here), powerOf(there)]
  if (from === null || to === null || from === to) return null
  const u95 = unsure(here, there)
  const difference = here.unit.difference(to - from)
  // Less than the two can tell: no loss to speak of.
  if (u95 !== undefined && Math.abs(difference) < u95) return null
  const { text } = formatNumber(difference, {
    u95,
    usual: here.unit.difference(from),
  })
  return (
    <p class="path-difference">
      {to > from && '+'}
      {text} {here.unit.print}
    </p>
  )
}

/** 95 % half-width of a difference of two independent values (JCGM 100, 5.1.2), in the view unit. */
function unsure(here: FigureHold, there: FigureHold): number | undefined {
  const [a, b] = [here.value.value.u95, there.value.value.u95]
  return a === undefined || b === undefined ? undefined : here.unit.difference(Math.hypot(a, b))
}

/** Where the power parts: one row for each branch, from a common bar, in the same scale as the band. */
function BranchList({ branches, ...props }: PlantProps & { branches: PathNode[][] }) {
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
  return (
    <li data-node={node.id}>
      <PathHead node={node} hold={hold} />
      {node.details.length > 0 && <PathDetails place="branch" node={node} hold={hold} open={open} />}
    </li>
  )
}

type DetailsProps = Pick<StepProps, 'node' | 'hold' | 'open'> & { place: 'path' | 'branch' }

function PathDetails({ place, node, hold, open }: DetailsProps) {
  const figures = node.details.flatMap((id) => hold.byId.get(id) ?? [])
  return (
    <dl class={`row small ${place}-details`}>
      {figures.map((figure) => (
        <PathDetail key={figure.description.id} figure={figure} open={open} />
      ))}
    </dl>
  )
}

function PathDetail({ figure, open }: { figure: FigureHold; open: PlantProps['open'] }) {
  const { id, name, symbol } = figure.description
  const link = (
    <FigureLink figure={id} open={open} title={name}>
      <FigureSymbol symbol={symbol} />
      <span class="spoken"> {name}</span>
    </FigureLink>
  )
  return (
    <Fact word={link}>
      <FigureNumber figure={figure} brief />
    </Fact>
  )
}

function PathHead({ node, hold }: Pick<StepProps, 'node' | 'hold'>) {
  const figure = figureOf(node, hold.byId)
  return (
    <div class="path-head">
      <h3>{node.name}</h3>
      {figure ? <FigureNumber figure={figure} brief /> : <i class="muted">not measured</i>}
    </div>
  )
}
