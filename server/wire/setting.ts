/** Switches that make a setting, by the family of the figure, and the word for them. */
const FAMILIES: readonly [family: string, word: string][] = [
  ['jetOpen', 'jets'],
  ['loadOn', 'loads'],
  ['inletValve', 'inlet valve'],
]

export interface SwitchValue {
  /** Id of the figure, e.g. "jetOpen.2". */
  id: string
  /** Null or NaN while nothing is known of it. */
  value: number | null
}

/** Whether the figure is one of the switches that make a setting. */
export function isSwitch(id: string): boolean {
  return FAMILIES.some(([family]) => family === id.split('.')[0])
}

/** What the switches are set to, e.g. "jets 1, 2 · loads 2"; "" at a plant that reports none. */
export function settingText(figures: readonly SwitchValue[]): string {
  return FAMILIES.flatMap(([family, word]) => {
    const switches = figures.filter(({ id }) => id.split('.')[0] === family)
    return switches.length === 0 ? [] : [`${word} ${familyText(switches)}`]
  }).join(' · ')
}

/** A switch that is hidden or silent is neither on nor off. */
function familyText(switches: readonly SwitchValue[]): string {
  const isKnown = ({ value }: SwitchValue) => value !== null && !Number.isNaN(value)
  const nameOf = ({ id }: SwitchValue) => id.split('.')[1] ?? 'open'
  if (!switches.some(isKnown)) return 'not known'
  const on = switches.filter((one) => isKnown(one) && one.value! > 0.5).map(nameOf)
  const unknown = switches.filter((one) => !isKnown(one)).map((one) => `${nameOf(one)}?`)
  return [...on, ...unknown].join(', ') || 'none'
}
