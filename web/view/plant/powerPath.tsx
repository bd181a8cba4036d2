import type { PathNode } from '../../../server/wire/plant.ts'
import { formatNumber } from '../../format/numbers.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { FigureNumber } from '../parts/figure.tsx'
import { Panel } from '../parts/panel.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import type { PlantProps } from './plantScreen.tsx'

/** Share of the band's room that a node without a known power is drawn with. */
const UNKNOWN_SHARE = 0.06
/** Thinnest drawn share, so that a small power is still a line. */
const LEAST_SHARE = 0.02

/** The way of the power from the water to the loads: the band is as wide as the power is large. */
export function PowerPath(props: PlantProps) {
  const { path } = props.hold.view
  if (path.length === 0) return null
  return (
    <Panel id="path" title="Power from water to load">
      <ol class="path">
        {path.map((node, i) => (
          <PathStep key={node.id} node={node} next={path[i + 1]} {...props} />
        ))}
      </ol>
    </Panel>
  )
}

type StepProps = PlantProps & { node: PathNode; next: PathNode | undefined }

function PathStep({ node, next, hold, open }: StepProps) {
  const figure = figureOf(node, hold.byId)
  return (
    <li class="path-step" data-node={node.id}>
      <div class="path-head">
        <h3>{node.name}</h3>
        {figure ? <FigureNumber figure={figure} brief /> : <p class="path-unknown">not measured</p>}
      </div>
      <PathBand node={node} next={next} hold={hold} />
      <dl class="path-details">
        {node.details.map((id) => {
          const detail = hold.byId.get(id)
          return detail && <PathDetail key={id} figure={detail} open={open} />
        })}
      </dl>
    </li>
  )
}

function PathDetail({ figure, open }: { figure: FigureHold; open: PlantProps['open'] }) {
  const { id, name, symbol } = figure.description
  return (
    <div>
      <dt>
        <button type="button" class="as-link" onClick={() => open(id)} aria-label={name} title={name}>
          <FigureSymbol symbol={symbol} />
        </button>
      </dt>
      <dd>
        <FigureNumber figure={figure} brief />
      </dd>
    </div>
  )
}

/** Band from this node to the next, and the difference between the two in words. */
function PathBand({ node, next, hold }: Pick<StepProps, 'node' | 'next' | 'hold'>) {
  const here = figureOf(node, hold.byId)
  const there = next && figureOf(next, hold.byId)
  const largest = Math.max(1e-9, ...hold.view.path.map((step) => powerOf(figureOf(step, hold.byId)) ?? 0))
  const from = shareOf(here, largest)
  const to = next ? shareOf(there, largest) : from
  const isUnsure = !here || here.value.value.quality !== 'good'
  return (
    <div class={isUnsure ? 'path-room path-unsure' : 'path-room'}>
      <div class={next ? 'path-band' : 'path-band path-end'} style={{ '--from': `${from}`, '--to': `${to}` }} />
      {here && there && <Difference here={here} there={there} />}
    </div>
  )
}

function Difference({ here, there }: { here: FigureHold; there: FigureHold }) {
  const [from, to] = [powerOf(here), powerOf(there)]
  if (from === null || to === null || from === to) return null
  const { text } = formatNumber(here.unit.difference(to - from), { u95: unsure(here, there) })
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

function figureOf(node: PathNode, byId: ReadonlyMap<string, FigureHold>): FigureHold | undefined {
  return node.figure === null ? undefined : byId.get(node.figure)
}

function powerOf(figure: FigureHold | undefined): number | null {
  return figure?.value.value.value ?? null
}

function shareOf(figure: FigureHold | undefined, largest: number): number {
  const power = powerOf(figure)
  return power === null ? UNKNOWN_SHARE : Math.max(LEAST_SHARE, Math.abs(power) / largest)
}
