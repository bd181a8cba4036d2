import type { ModelOptions, PlantModel } from './model.ts'
import { createOstrelby } from './ostrelby.ts'
import { createQuennerby } from './quennerby.ts'
import { createSkelderwath } from './skelderwath.ts'

/** The plants that can be played, by the id of their plant file. */
export const plantModels: Readonly<Record<string, (options: ModelOptions) => PlantModel>> = {
  quennerby: createQuennerby,
  ostrelby: createOstrelby,
  skelderwath: createSkelderwath,
}
