import { describe, expect, it } from 'vitest'
import { balance } from './balance.ts'
import { idealSite, run, set } from './settle.ts'

/** Not one of the losses but those of runner and pump is the rest of a subtraction, so that this can fail. */
describe('energy', () => {
  const table: [string, string, Record<string, number | boolean>][] = [
    ['quennerby', 'steady', {}],
    ['quennerby', 'two jets closing', { 'jet-3': false, 'jet-4': false }],
    ['quennerby', 'load rejection into the brake', { charger: false }],
    ['quennerby', 'resistors beside the charger', { 'load-bank': true, 'load-resistance': 8 }],
    ['quennerby', 'another speed', { 'speed-set': 1200 }],
    ['ostrelby', 'steady', {}],
    ['ostrelby', 'a spear closing', { 'spear-2': 0 }],
    ['ostrelby', 'the village lost', { village: false }],
    ['skelderwath', 'steady', {}],
    ['skelderwath', 'the grid lost', { grid: false }],
    ['skelderwath', 'vanes closing', { 'vane-2': 20 }],
  ]
  it.each(table)('of %s is kept: %s', (id, _what, settings) => {
    const site = idealSite(id)
    run(site, 3)
    set(site, settings)
    const { supplied, left, stored } = balance(site, 4)
    expect(Math.abs(supplied - left - stored) / supplied).toBeLessThan(0.005)
  })

  it('of the rig is stored and released: the rotor holds 247 J at 1500 min⁻¹ (½·0.020·157.08², by hand)', () => {
    const site = idealSite('quennerby')
    run(site, 5)
    const plain = site.book().stored
    set(site, { flywheel: true })
    run(site, 0.002)
    // The flywheel adds three times as much inertia at the same speed.
    expect(Math.abs(site.book().stored - plain - 3 * 246.7)).toBeLessThan(2)
  })
})
