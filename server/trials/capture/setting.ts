import type { LivePlant } from '../../livePlant.ts'

/** Switches that make a setting, by the family of the figure, and the word for them. */
export const FAMILIES: readonly [family: string, word: string][] = [
  ['jetOpen', 'jets'],
  ['loadOn', 'loads'],
  ['inletValve', 'inlet valve'],
]

/** Tells what the switches are set to, e.g. "jets 1, 2 · loads 2"; "" at a plant that reports none. */
export function createSetting({ plan, evaluator }: LivePlant): () => string {
  const families = FAMILIES.flatMap(([family, word]) => {
    const switches = plan.nodes.flatMap(({ index, description: { id } }) =>
      id.split('.')[0] === family ? [{ index, name: id.split('.')[1] ?? 'open' }] : [],
    )
    return switches.length === 0 ? [] : [{ word, switches }]
  })
  return () =>
    families
      .map(({ word, switches }) => {
        const on = switches.filter(({ index }) => evaluator.value(index) > 0.5).map(({ name }) => name)
        return `${word} ${on.length === 0 ? 'none' : on.join(', ')}`
      })
      .join(' · ')
}
