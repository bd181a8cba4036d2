import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { PolledScreen } from '../parts/polledScreen.tsx'
import { PlantCard } from './plantCard.tsx'

const EVERY_MS = 2000

/** Every plant at a glance: is it running, what does it make, is anything wrong. */
export function PlantsScreen() {
  const plants = usePolled(http.plants, EVERY_MS, [])
  const summaries = plants.reply.value
  const error = plants.error.value
  return (
    <PolledScreen screen="plants" title="Plants" error={error} kept="The list shows what was last received.">
      {summaries === null && !error && <p>Reading the list of plants…</p>}
      {summaries?.length === 0 && <p>This server has no plant. Start it with a plant file.</p>}
      <ul class="plant-cards">
        {summaries?.map((summary) => (
          <PlantCard key={summary.id} summary={summary} isHeld={error !== null} />
        ))}
      </ul>
    </PolledScreen>
  )
}
