import type { AgreementReply, ReconciledInstrument, RelationView } from '../../../server/wire/agreement.ts'
import type { FigureValue } from '../../../server/wire/figure.ts'
import { formatNumber, type NumberText } from '../../../server/wire/numbers.ts'
import { unitView } from '../../../server/wire/units.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { agreementWords } from '../../format/words.ts'
import { FigureLink } from '../parts/button.tsx'
import { Amount, numberText } from '../parts/figureNumber.tsx'
import { Fold } from '../parts/fold.tsx'
import { useLastKnown } from '../parts/ground.tsx'
import { Panel } from '../parts/panel.tsx'
import { TableHead } from '../parts/wideTable.tsx'
import type { PlantProps } from './plantProps.ts'

const EVERY_MS = 2000

/** Each thing that is known in two ways, side by side: the residual says whether the instruments agree. */
export function AgreementPanel({ hold, connection, open }: PlantProps) {
  const plant = hold.view.id
  const asked = usePolled(() => http.agreement(plant), EVERY_MS, [plant, connection.joins.value])
  const reply = asked.reply.value
  const at = useLastKnown()
  if (reply && reply.relations.length === 0) return null
  return (
    <Panel
      id="agreement"
      title="Do the instruments agree?"
      count={reply && at === null ? agreementWords[reply.state] : undefined}
    >
      {!reply && <p class="quiet">{asked.error.value ? `Not read: ${asked.error.value}` : 'Asking…'}</p>}
      {reply && (
        <>
          <p data-agreement={at === null ? reply.state : 'notKnown'}>
            {at === null ? reply.sentence : `At ${at}: ${reply.sentence}`}
          </p>
          {reply.state === 'suspect' ? (
            <RelationTable reply={reply} open={open} />
          ) : (
            <Fold title="Comparisons" note={tally(reply)} always>
              <RelationTable reply={reply} open={open} />
            </Fold>
          )}
          {reply.instruments.length > 0 && (
            <Fold
              title="Readings that fit all comparisons best"
              note="corrected, with what is left of ±"
              always
            >
              <ReconciledTable instruments={reply.instruments} hold={hold} open={open} />
            </Fold>
          )}
        </>
      )}
    </Panel>
  )
}

function tally({ relations }: AgreementReply): string {
  const judged = relations.filter(({ deviate }) => deviate !== null).length
  return `${judged} of ${relations.length} judged`
}

type Open = PlantProps['open']

function RelationTable({ reply, open }: { reply: AgreementReply; open: Open }) {
  return (
    <>
      <table class="agreement">
        <caption class="spoken">Comparisons between instruments</caption>
        <TableHead
          heads={[
            'Comparison',
            '#Expected',
            '#Measured',
            '#Residual',
            <span class="spoken" key="deviate">
              Residual over its standard uncertainty
            </span>,
          ]}
        />
        <tbody>
          {reply.relations.map((relation) => (
            <RelationRow key={relation.id} relation={relation} open={open} />
          ))}
        </tbody>
      </table>
      <p class="hint">
        Residual: expected less measured. Its ± holds 95 % of sound ones: instruments, relation and scatter
        together.
      </p>
    </>
  )
}

function RelationRow({ relation, open }: { relation: RelationView; open: Open }) {
  const { id, name, expected, measured, residual, deviate } = relation
  const unit = unitView(relation.unit, relation.viewUnit)
  const text = (value: FigureValue) =>
    formatNumber(value.value === null ? null : unit.difference(value.value), {
      u95: residual.u95 === undefined ? undefined : unit.difference(residual.u95),
    })
  return (
    <tr data-relation={id}>
      <NameCell figure={id} name={name} open={open} />
      <NumberCell label="Expected" text={text(expected).text} />
      <NumberCell label="Measured" text={text(measured).text} unit={unit.print} />
      <NumberCell label="Residual" {...text(residual)} />
      <td class="deviate-cell">
        {deviate === null ? <span class="quiet">not judged</span> : <Deviate deviate={deviate} />}
      </td>
    </tr>
  )
}

function NameCell({ figure, name, open }: { figure: string; name: string; open: Open }) {
  return (
    <th scope="row">
      <FigureLink figure={figure} open={open}>
        {name}
      </FigureLink>
    </th>
  )
}

/** On a phone its label stands in place of the head of the column. */
function NumberCell({ label, unit, ...number }: NumberText & { label: string; unit?: string }) {
  return (
    <td class="at-right number" data-label={label}>
      <Amount {...number} /> {unit && <span class="unit">{unit}</span>}
    </td>
  )
}

/** Ends of the drawn scale, in standard uncertainties. */
const SCALE_END = 5
/** Beyond this a residual is worth a second look (95 % of sound ones stay within). */
const NOTABLE = 2

/** A mark on a scale whose middle band holds 95 % of sound residuals. */
function Deviate({ deviate }: { deviate: number }) {
  const place = 50 + (50 * Math.max(-SCALE_END, Math.min(SCALE_END, deviate))) / SCALE_END
  const isNotable = Math.abs(deviate) > NOTABLE
  return (
    <span class="deviate" data-notable={isNotable}>
      <span class="spoken">{formatNumber(deviate, { u95: 1 }).text} standard uncertainties</span>
      <span class="deviate-band" aria-hidden="true" />
      <span class="deviate-mark" aria-hidden="true" style={{ left: `${place}%` }} />
    </span>
  )
}

interface ReconciledProps {
  instruments: ReconciledInstrument[]
  hold: PlantProps['hold']
  open: Open
}

function ReconciledTable({ instruments, hold, open }: ReconciledProps) {
  return (
    <table class="agreement">
      <caption class="spoken">Reconciled readings</caption>
      <TableHead heads={['Instrument', '#Reads', '#Fits best']} />
      <tbody>
        {instruments.map((one) => (
          <ReconciledRow key={one.instrument} one={one} hold={hold} open={open} />
        ))}
      </tbody>
    </table>
  )
}

function ReconciledRow({
  one,
  hold,
  open,
}: Omit<ReconciledProps, 'instruments'> & { one: ReconciledInstrument }) {
  const figure = hold.byId.get(one.figure)
  if (!figure) return null
  const { unit } = figure
  return (
    <tr>
      <NameCell figure={one.figure} name={one.name} open={open} />
      <NumberCell label="Reads" {...numberText(one.measured, unit)} />
      <NumberCell label="Fits best" {...numberText(one.reconciled, unit)} unit={unit.print} />
    </tr>
  )
}
