import { counterKinds, tripKind } from '../counterKinds.ts'
import type { Plan } from '../plan.ts'
import { isOf } from './conditions.ts'
import type { CountedPlant, CounterKind } from './kind.ts'

/** The counters that a plant's instruments allow. */
export function kindsFor(counted: CountedPlant, plan: Plan): CounterKind[] {
  const trips = plan.nodes
    .map((node) => node.description)
    .filter(({ id }) => isOf('tripped', id))
    .map(({ id, name }) => tripKind(id, name))
  const meterRoles = new Set(counted.plant.instruments.map(({ quantity }) => quantity))
  return [...counterKinds, ...trips].filter(({ figures: needed, applies, counting }) => {
    const isMetered = counting.by === 'integral' && counting.meter && meterRoles.has(counting.meter.role)
    const isThere = (figure: string) =>
      figure.endsWith('.*') ? trips.length > 0 && figure === 'tripped.*' : counted.has(figure)
    return (isMetered || needed.every(isThere)) && (applies?.(counted) ?? true)
  })
}
