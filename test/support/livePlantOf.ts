import { createLivePlant, type LivePlant, type LivePlantOptions } from '../../server/livePlant.ts'
import type { Plant } from '../../server/plant/plant.ts'
import { memoryJournal } from './alarmBench.ts'

/** A live plant without a server around it: journal and counters end with the test; give whatever it shall watch. */
export function livePlantOf(plant: Plant, more: Partial<LivePlantOptions> = {}): LivePlant {
  return createLivePlant(plant, {
    journal: memoryJournal(),
    counterStore: { load: () => undefined, days: () => [], save: () => true },
    mono: () => 0,
    onTransition: () => {},
    ...more,
  })
}
