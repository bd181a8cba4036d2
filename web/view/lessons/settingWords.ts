import type { PlantHold } from '../../hold/plantHold.ts'

/** As server/trials/capture/setting.ts has it: the page shares only types with the server. */
const FAMILIES: readonly [family: string, word: string][] = [
  ['jetOpen', 'jets'],
  ['loadOn', 'loads'],
  ['inletValve', 'inlet valve'],
]

/** What the switches of the plant are set to, e.g. "jets 1, 2 · loads 2". */
export function settingOf({ figures }: PlantHold): string {
  return FAMILIES.flatMap(([family, word]) => {
    const switches = figures.filter(({ description: { id } }) => id.split('.')[0] === family)
    if (switches.length === 0) return []
    const on = switches.filter(({ value }) => (value.value.value ?? 0) > 0.5)
    return [`${word} ${on.map(({ description: { id } }) => id.split('.')[1] ?? 'open').join(', ') || 'none'}`]
  }).join(' · ')
}
