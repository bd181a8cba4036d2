import { describe, expect, it } from 'vitest'
import type { Site } from '../../simulator/site.ts'
import { RIG_VOLTAGE_OVER_CURRENT } from '../support/designSheets.ts'
import { idealSite, PER_MINUTE, run, set, truthOf } from './settle.ts'

const jets = (count: number) =>
  Object.fromEntries([1, 2, 3, 4].map((jet) => [`jet-${jet}`, jet <= count] as const))

/** Resistors on, charge controller off. */
function freed(resistance: number, settings: Record<string, number | boolean> = {}): Site {
  const site = idealSite('quennerby')
  set(site, { 'load-bank': true, 'load-resistance': resistance, ...settings })
  set(site, { charger: false })
  run(site, 30)
  return site
}

/** Where the torques meet [rad/s], by halving: those of the data sheet, worked out apart from the simulator. */
function balance(resistance: number, head = 24): number {
  const [emf, winding, inductance, rated] = [(0.018 * 60) / (2 * Math.PI), 0.28, 2e-3, 1500 * PER_MINUTE]
  const root = Math.sqrt(head / 24)
  const surplus = (speed: number) => {
    const turbine = 6.29 * (head / 24) * (1 - (speed / (1.842 * rated * root)) ** 1.5)
    const current = (emf * speed) / Math.hypot(winding + resistance, 2 * speed * inductance)
    const electrical = (3 * current ** 2 * (winding + resistance)) / speed
    const rotation = (20 * Math.sqrt(speed / rated) + 20) / rated
    return turbine - electrical - rotation
  }
  let [low, high] = [0.2 * rated, 1.9 * rated]
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (surplus(middle) > 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}

describe('the rig with its charge controller off and resistors on the terminals', () => {
  it.each([
    [3.2, 24],
    [3.5, 24],
    [4, 24],
    [3.5, 20],
  ])('turns at %d Ω and %d m where the torques of its data sheet meet', (resistance, head) => {
    const site = freed(resistance, { head, protection: false })
    expect(truthOf(site, 'speed') / balance(resistance, head)).toBeCloseTo(1, 2)
  })

  it('slows down when load is put on and speeds up when a jet opens, as no regulator is there', () => {
    const site = freed(4)
    const before = truthOf(site, 'frequency')
    set(site, { 'load-resistance': 3 })
    run(site, 15)
    const loaded = truthOf(site, 'frequency')
    expect(loaded).toBeLessThan(before - 1)
    set(site, jets(3))
    run(site, 15)
    expect(truthOf(site, 'frequency')).toBeLessThan(loaded - 2)
    set(site, jets(4))
    run(site, 15)
    expect(truthOf(site, 'frequency')).toBeCloseTo(loaded, 1)
  })

  it('runs into its brake when the resistors are taken off', () => {
    const site = freed(3.5)
    set(site, { 'load-bank': false })
    run(site, 3)
    expect(truthOf(site, 'tripped.1')).toBe(1)
  })

  it('gives the voltages of the sheet at 50 Hz to whoever holds the frequency by hand', () => {
    const sheet = (current: number) => {
      const i = RIG_VOLTAGE_OVER_CURRENT.findIndex(([one]) => one > current)
      const [[x0, y0], [x1, y1]] = [RIG_VOLTAGE_OVER_CURRENT[i - 1]!, RIG_VOLTAGE_OVER_CURRENT[i]!]
      return y0 + ((y1 - y0) * (current - x0)) / (x1 - x0)
    }
    for (const [count, head] of [
      [1, 22],
      [2, 24],
      [3, 24],
      [4, 26],
    ] as const) {
      // A person turns the knob by what the dial is off, waits, and looks again; the slider has steps of 0.05 Ω.
      let resistance = 14 / count
      const site = freed(resistance, { ...jets(count), head })
      for (let look = 0; look < 30 && Math.abs(truthOf(site, 'frequency') - 50) > 0.4; look++) {
        const share = truthOf(site, 'frequency') / 50
        resistance = Math.min(60, Math.max(2, Math.round((resistance / share ** 1.5) * 20) / 20))
        set(site, { 'load-resistance': resistance })
        run(site, 5)
      }
      expect(Math.abs(truthOf(site, 'frequency') - 50), `${count} jets`).toBeLessThan(0.5)
      const atRated = (truthOf(site, 'phaseVoltage.1') * 50) / truthOf(site, 'frequency')
      expect(atRated, `${count} jets`).toBeCloseTo(sheet(truthOf(site, 'phaseCurrent.1')), 1)
    }
  })

  it('keeps its energy: what the resistors burn is found at the terminals', () => {
    const site = freed(3.5)
    const { voltage, current } = {
      voltage: truthOf(site, 'phaseVoltage.1'),
      current: truthOf(site, 'phaseCurrent.1'),
    }
    // Ohm's law and P = 3·U·I
    expect(voltage / current).toBeCloseTo(3.5, 6)
    expect(truthOf(site, 'terminalLoadPower')).toBeCloseTo(3 * voltage * current, 6)
    expect(truthOf(site, 'activePower')).toBeCloseTo(3 * voltage * current, 6)
    expect(truthOf(site, 'dcCurrent')).toBe(0)
  })
})
