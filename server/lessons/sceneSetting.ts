import type { Scene } from '../push/scene.ts'
import { FAMILIES } from '../trials/capture/setting.ts'

/** What the switches of a scene are set to, e.g. "jets 1, 2 · loads 2"; "" where none is reported. */
export function settingOf(scene: Pick<Scene, 'view' | 'value'>): string {
  return FAMILIES.flatMap(([family, word]) => {
    const switches = scene.view.figures.flatMap(({ id }, index) =>
      id.split('.')[0] === family
        ? [{ name: id.split('.')[1] ?? 'open', value: scene.value(index).value }]
        : [],
    )
    if (switches.length === 0) return []
    // A switch that is hidden or silent is neither on nor off.
    if (switches.every(({ value }) => value === null)) return [`${word} not known`]
    const on = switches.filter(({ value }) => value !== null && value > 0.5).map(({ name }) => name)
    const unknown = switches.filter(({ value }) => value === null).map(({ name }) => `${name}?`)
    return [`${word} ${[...on, ...unknown].join(', ') || 'none'}`]
  }).join(' · ')
}
