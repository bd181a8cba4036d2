import type { LivePlant } from '../../livePlant.ts'

/** Switches that make a setting, by the family of the figure, and the word for them. */
const FAMILIES: readonly [family: string, word: string][] = [
  ['jetOpen', 'jets'],
  ['loadOn', 'loads'],
  ['inletValve', 'inlet valve'],
]

/** What the switches are set to, e.g. "jets 1, 2 · loads 2"; "" at a plant that reports none. */
export function settingOf({ plan, evaluator }: LivePlant): string {
  const parts = FAMILIES.flatMap(([family, word]) => {
    const switches = plan.nodes.filter(({ description }) => description.id.split('.')[0] === family)
    if (switches.length === 0) return []
    const on = switches
      .filter(({ index }) => evaluator.value(index) > 0.5)
      .map(({ description }) => description.id.split('.')[1] ?? 'open')
    return [`${word} ${on.length === 0 ? 'none' : on.join(', ')}`]
  })
  return parts.join(' · ')
}
