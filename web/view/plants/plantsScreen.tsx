import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { PlantCard } from './plantCard.tsx'

const EVERY_MS = 2000

/** Every plant at a glance: is it running, what does it make, is anything wrong. */
export function PlantsScreen() {
  const plants = usePolled(http.plants, EVERY_MS, [])
  const summaries = plants.reply.value
  const error = plants.error.value
  return (
    <div class="screen plants" data-screen="plants" data-withheld={error !== null}>
      <h1>Plants</h1>
      {error && (
        <p class="banner" role="status" data-banner="lost">
          <span class="banner-sign" aria-hidden="true">
            !
          </span>
          <span>{error} The list shows what was last received.</span>
        </p>
      )}
      {summaries === null && !error && <p>Reading the list of plants…</p>}
      {summaries?.length === 0 && <p>This server has no plant. Start it with a plant file.</p>}
      <ul class="plant-cards">
        {summaries?.map((summary) => (
          <PlantCard key={summary.id} summary={summary} isHeld={error !== null} />
        ))}
      </ul>
    </div>
  )
}
