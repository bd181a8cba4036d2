import type { EnergyBook } from '../../simulator/plants/model.ts'
import type { Site } from '../../simulator/site.ts'
import { run } from './settle.ts'

const out = (book: EnergyBook) => book.used + Object.values(book.lost).reduce((sum, one) => sum + one, 0)

/** Energy [J] that came in, went out and was stored, by trapezoids over steps of 2 ms. */
export function balance(site: Site, seconds: number) {
  let before = site.book()
  const start = before.stored
  let supplied = 0
  let left = 0
  for (let i = 0; i < seconds / 0.002; i++) {
    run(site, 0.002)
    const after = site.book()
    supplied += 0.001 * (before.supplied + after.supplied)
    left += 0.001 * (out(before) + out(after))
    before = after
  }
  return { supplied, left, stored: before.stored - start }
}
