/** A setting in SI; a switch is a boolean, a choice its id. */
export type Setting = number | boolean | string

/** Where the power goes at this instant. */
export interface EnergyBook {
  /** Power that enters [W]. */
  supplied: number
  /** Power that leaves usefully [W]. */
  used: number
  /** Power turned into heat or spray [W], by place. */
  lost: Record<string, number>
  /** Energy held in moving water, turning masses and cells [J]. */
  stored: number
}

/** One plant made of parts. Time goes on only through `step`. */
export interface PlantModel {
  /** Advances by `dt` [s]; the models are made for 2 ms. */
  step(dt: number): void
  /** True values by quantity id [SI], as the instruments would read them were they perfect. */
  truth(): Record<string, number>
  /** Present settings by control id. Change them only through `command`. */
  settings: Readonly<Record<string, Setting>>
  /** Sets one control; false where the plant has no such control or the kind of value does not fit. */
  command(id: string, value: Setting): boolean
  /** Generator speed [rad/s], cheap enough for every step. */
  speed(): number
  book(): EnergyBook
}

export interface ModelOptions {
  /** Random numbers for turbulence and changing demand; absent: a perfectly quiet plant. */
  random?: () => number
  /** False takes bearing, windage and iron losses away, as the hand calculation of a rejection does. */
  rotationLosses?: boolean
}

/** Writes a setting where its kind fits. */
export function changeSetting(settings: Record<string, Setting>, id: string, value: Setting): boolean {
  if (!Object.hasOwn(settings, id) || typeof settings[id] !== typeof value) return false
  if (typeof value === 'number' && !Number.isFinite(value)) return false
  settings[id] = value
  return true
}

/** Books of parts in a row: what one uses, the next is supplied with. */
export function joinBooks(books: readonly EnergyBook[]): EnergyBook {
  return {
    supplied: books[0]!.supplied,
    used: books.at(-1)!.used,
    lost: Object.assign({}, ...books.map((book) => book.lost)) as Record<string, number>,
    stored: books.reduce((sum, book) => sum + book.stored, 0),
  }
}

/** Three phases in star that carry the same. */
export function onThreePhases(voltage: number, current: number): Record<string, number> {
  const phases = [1, 2, 3].flatMap((phase) => [
    [`phaseVoltage.${phase}`, voltage],
    [`lineVoltage.${phase}`, Math.sqrt(3) * voltage],
    [`phaseCurrent.${phase}`, current],
  ])
  return Object.fromEntries(phases) as Record<string, number>
}
