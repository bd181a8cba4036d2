import type { PlantSummary } from '../../../server/wire/plant.ts'
import { unitView } from '../../../server/wire/units.ts'
import { agoWords } from '../../format/age.ts'
import { dateTime, localZone } from '../../format/time.ts'
import { counted, stateWords } from '../../format/words.ts'
import { figureText, QualityMark } from '../parts/figureNumber.tsx'
import { LastKnownMark, useLastKnown } from '../parts/ground.tsx'
import { SimStamp } from '../parts/panel.tsx'
import { PolledScreen } from '../parts/polledScreen.tsx'
import { StateShape } from '../parts/shapes.tsx'
import { address } from '../screens.ts'
import { bySeverity, usePlants } from './plantList.ts'

/** Every plant at a glance: is it running, what does it make, is anything wrong. */
export function PlantsScreen() {
  const plants = usePlants()
  const summaries = plants.reply.value && bySeverity(plants.reply.value)
  const error = plants.error.value
  return (
    <PolledScreen screen="plants" title="Plants" asked={plants} kept="The list shows what was last received.">
      {summaries === null && !error && <p>Reading the list of plants…</p>}
      {summaries?.length === 0 && <p>This server has no plant. Start it with a plant file.</p>}
      <ul class="plant-cards">
        {summaries?.map((summary) => (
          <PlantCard key={summary.id} summary={summary} />
        ))}
      </ul>
    </PolledScreen>
  )
}

function PlantCard({ summary }: { summary: PlantSummary }) {
  const { id, name, state, simulated } = summary
  return (
    <li class="plant-card panel" data-plant={id} data-state={state.state} data-danger={summary.danger?.kind}>
      <h2>
        <a href={address({ screen: 'plant', plant: id })}>{name}</a>
        {simulated && <SimStamp />}
      </h2>
      <p class="muted">{summary.summary}</p>
      <div class="row">
        <StateShape state={state.state} />
        <p class="state-word">
          <LastKnownMark />
          {stateWords[state.state]}
        </p>
        <Headline summary={summary} />
      </div>
      <p class="state-sentence">{state.sentence}</p>
      <p class="row apart small muted plant-meta">
        <AlarmCount unacknowledged={summary.unacknowledged} active={summary.active} />
        <LastMessage at={summary.lastReceivedAt} />
      </p>
    </li>
  )
}

/** An age would stand still while nothing comes; a time of day stays true. */
function LastMessage({ at }: { at: number | null }) {
  const isHeld = useLastKnown() !== null
  const text = isHeld && at !== null ? `known of: ${dateTime(at, localZone)}` : agoWords(at, Date.now())
  return <span>Last message {text}</span>
}

function Headline({ summary }: { summary: PlantSummary }) {
  const { headline } = summary
  if (!headline) return null
  const { figure, value } = headline
  const unit = unitView(figure.unit, figure.viewUnit)
  const { text } = figureText({ description: figure, unit }, value)
  return (
    <p class={`value headline quality-${value.quality}`} data-figure={figure.id} data-quality={value.quality}>
      <span class="number">{text}</span>
      {unit.print && <span class="unit"> {unit.print}</span>}
      <QualityMark value={value} />
    </p>
  )
}

function AlarmCount({ unacknowledged, active }: { unacknowledged: number; active: number }) {
  const at = useLastKnown()
  if (unacknowledged + active === 0) return <span>{at ? 'Alarms: not known' : 'No alarms'}</span>
  return (
    <span class={unacknowledged > 0 ? 'count-open' : undefined}>
      {unacknowledged > 0
        ? `${counted(unacknowledged, 'alarm')} not acknowledged, ${active || 'none'} active`
        : `${counted(active, 'alarm')} active, acknowledged`}
    </span>
  )
}
