import { Fragment } from 'preact'
import type { ExplainReply } from '../../../server/wire/explain.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import { printUnit } from '../../../server/wire/units.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { clockTime } from '../../format/time.ts'
import { FigureLink } from '../parts/button.tsx'
import { Fact } from '../parts/fact.tsx'
import { FigureNumber } from '../parts/figureNumber.tsx'
import { FigureSymbol, FormulaText } from '../parts/symbol.tsx'
import type { PlantProps } from './plantProps.ts'

const EVERY_MS = 2000

/** Why this number: the formula with today's values, or the instrument it comes from. */
export function Explanation({ figure, hold, open }: PlantProps & { figure: string }) {
  const plant = hold.view.id
  const explained = usePolled(() => http.explain(plant, figure), EVERY_MS, [plant, figure])
  const reply = explained.reply.value
  if (!reply)
    return (
      <p class="quiet">{explained.error.value ? `Not explained: ${explained.error.value}` : 'Asking…'}</p>
    )
  return (
    <div data-panel="explanation">
      {reply.formula && <Formula formula={reply.formula} reply={reply} hold={hold} />}
      {reply.instrument && <Source instrument={reply.instrument} />}
      <Inputs reply={reply} hold={hold} open={open} />
      <Shares shares={reply.uncertaintyShares} />
    </div>
  )
}

interface FormulaProps {
  formula: NonNullable<ExplainReply['formula']>
  reply: ExplainReply
  hold: PlantProps['hold']
}

/** The numbers are those of one moment, and so is what they give. */
function Formula({ formula, reply, hold }: FormulaProps) {
  const { id, symbol } = reply.figure
  const { at } = reply.value
  const own = hold.byId.get(id)
  return (
    <>
      <h3>Formula</h3>
      <p class="formula">
        <FigureSymbol symbol={symbol} /> = <FormulaText text={formula.symbols} />
      </p>
      <p class="formula">= {formula.numbers ?? 'an input is missing just now'}</p>
      {own && formula.numbers && (
        <p class="formula" data-result>
          = <FigureNumber figure={own} then={reply.value} />
          {at !== null && <span class="quiet"> at {clockTime(at, hold.view.timeZone)}</span>}
        </p>
      )}
      {formula.estimated && <p class="quiet">Estimated: {formula.estimated}</p>}
      <p class="quiet">In SI units. Source: {formula.source}</p>
      {formula.valid.length > 0 && <p class="quiet">Not given when: {formula.valid.join('; ')}.</p>}
      {formula.limits && <p class="quiet">Uncertain when: {formula.limits.join('; ')}.</p>}
    </>
  )
}

function Source({ instrument }: { instrument: NonNullable<ExplainReply['instrument']> }) {
  const { name, topic, unit, range, accuracy } = instrument
  return (
    <>
      <h3>Instrument</h3>
      <p>{name}</p>
      <p>
        <code>{topic}</code>
      </p>
      <p class="quiet">
        {range && `${range[0]} … ${range[1]} ${printUnit(unit)}, `}
        {accuracy}
      </p>
    </>
  )
}

function Inputs({ reply, hold, open }: Pick<PlantProps, 'hold' | 'open'> & { reply: ExplainReply }) {
  if (reply.inputs.length + reply.constants.length === 0) return null
  return (
    <>
      <h3>Inputs</h3>
      <dl class="facts">
        {reply.inputs.map(({ symbol, figure, value }) => {
          const held = hold.byId.get(figure.id)
          return (
            <div key={`${symbol} ${figure.id}`} data-input={figure.id}>
              <dt>
                <FigureLink figure={figure.id} open={open}>
                  {figure.name}
                </FigureLink>{' '}
                <FigureSymbol symbol={symbol} />
              </dt>
              <dd>{held && <FigureNumber figure={held} then={value} />}</dd>
            </div>
          )
        })}
        {reply.constants.map(({ symbol, path, value, unit, plusMinus, assumed }) => (
          <div key={path}>
            <dt>
              <PathText path={path} /> <FigureSymbol symbol={symbol} />
            </dt>
            <dd>
              <span class="number">
                {value === null ? 'its curve' : `${Number(value.toPrecision(6))} ${printUnit(unit)}`}{' '}
                {plusMinus}
              </span>
              {assumed && <span class="quiet"> ± assumed: {assumed}</span>}
            </dd>
          </div>
        ))}
      </dl>
    </>
  )
}

/** May break after a dot or before a capital: "turbine.drive|Efficiency". */
function PathText({ path }: { path: string }) {
  return (
    <code>
      {path.split(/(?<=\.)|(?=[A-Z])/).map((part, i) => (
        <Fragment key={`${i} ${part}`}>
          {i > 0 && <wbr />}
          {part}
        </Fragment>
      ))}
    </code>
  )
}

/** Which instrument or constant to improve first. */
function Shares({ shares }: { shares: ExplainReply['uncertaintyShares'] }) {
  if (shares.length === 0) return null
  return (
    <>
      <h3>Where the uncertainty comes from</h3>
      <dl class="facts">
        {shares.map(({ source, kind, name, share, assumed }) => (
          <Fact key={source} word={kind === 'constant' ? <PathText path={name} /> : name}>
            <span class="number">{formatNumber(100 * share, { u95: 1 }).text} %</span>
            {assumed && <span class="quiet"> ± assumed: {assumed}</span>}
          </Fact>
        ))}
      </dl>
    </>
  )
}
