import { createSite, type Site } from '../../simulator/site.ts'

/** Lets plant time go by [s]. */
export function run(site: Site, seconds: number): void {
  site.step(seconds)
}

/** A quiet plant with perfect instruments. */
export function idealSite(id: string, options: { rotationLosses?: boolean } = {}): Site {
  return createSite(id, { ideal: true, ...options })
}

/** Sets controls; a command that is refused is a fault of the test. */
export function set(site: Site, settings: Record<string, number | boolean | string>): void {
  for (const [control, value] of Object.entries(settings)) {
    const fault = site.command(control, value)
    if (fault !== undefined) throw new Error(fault)
  }
}

export function truthOf(site: Site, quantity: string): number {
  const value = site.truth().get(quantity)
  if (value === undefined) throw new Error(`no quantity "${quantity}"`)
  return value
}

export const PER_MINUTE = (2 * Math.PI) / 60
