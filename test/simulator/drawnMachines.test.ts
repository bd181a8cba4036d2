import { describe, expect, it } from 'vitest'
import { createSite, type Site } from '../../simulator/site.ts'
import { type DrawnMachine, drawMachine } from '../support/drawnMachine.ts'
import { balance } from './balance.ts'
import { run, set, truthOf } from './settle.ts'

/** Every kind of turbine on every network at least twice (8 · 3 · 2.25). */
const SEEDS = Array.from({ length: 54 }, (_, seed) => seed)

const LOSE: Record<DrawnMachine['network'], Record<string, boolean>> = {
  bus: { charger: false },
  island: { feeder: false, dump: false },
  grid: { grid: false },
}

const siteOf = ({ plant }: DrawnMachine, rotationLosses = true) =>
  createSite(plant.id, { plant, ideal: true, rotationLosses })

/** A battery inverter would take the place of the load. */
const hasHelp = ({ network, plant }: DrawnMachine) => network === 'island' && plant.battery !== undefined

function lose(site: Site, machine: DrawnMachine): void {
  set(site, { ...LOSE[machine.network], ...(hasHelp(machine) ? { battery: false } : {}) })
}

function regain(site: Site, machine: DrawnMachine): void {
  const settings = Object.entries(LOSE[machine.network]).map(([id]) => [id, true] as const)
  set(site, { ...Object.fromEntries(settings), ...(hasHelp(machine) ? { battery: true } : {}), reset: true })
}

/** Something closes by half. */
function disturb(site: Site, { inlet }: DrawnMachine): void {
  if (inlet === 'jets') set(site, { 'jet-1': false })
  else if (inlet !== 'none') set(site, { [inlet === 'spears' ? 'spear-1' : 'vane-1']: 0.5 })
  else set(site, { throttle: 0.7 })
}

/** What no machine can do, whatever happens. */
function expectPossible(site: Site): void {
  const truth = site.truth()
  for (const [quantity, value] of truth)
    expect(Number.isFinite(value) || /Efficiency$/.test(quantity), `${quantity} ${value}`).toBe(true)
  for (const quantity of ['turbineEfficiency', 'generatorEfficiency', 'waterToWireEfficiency'])
    expect(truth.get(quantity)! > 1, `${quantity} ${truth.get(quantity)}`).toBe(false)
  for (const quantity of ['speed', 'discharge', 'netHead', 'hydraulicPower'])
    expect(truth.get(quantity), quantity).toBeGreaterThanOrEqual(0)
  for (const quantity of ['windingTemperature', 'bearingTemperature.1'])
    expect(truth.get(quantity), quantity).toBeLessThan(273 + 200)
  if (truth.has('grossHead')) expect(truth.get('netHead')).toBeLessThanOrEqual(truth.get('grossHead')! + 1e-6)
}

describe.each(SEEDS)('machine %i', (seed) => {
  const machine = drawMachine(seed)
  const { rated } = machine

  it('runs at its ratings, within what physics allows, and keeps its energy when something closes', () => {
    const site = siteOf(machine)
    run(site, 20)
    expectPossible(site)
    // the charger holds 100 %, the grid its frequency; the dump load's band is 3 %
    expect(Math.abs(truthOf(site, 'speed') / rated.speed - 1)).toBeLessThan(
      machine.network === 'island' ? 0.035 : 0.01,
    )
    expect(Math.abs(truthOf(site, 'discharge') / rated.discharge - 1)).toBeLessThan(0.03)
    expect(Math.abs(truthOf(site, 'activePower') / rated.power - 1)).toBeLessThan(0.04)
    disturb(site, machine)
    const { supplied, left, stored } = balance(site, 2)
    expect(Math.abs(supplied - left - stored) / supplied).toBeLessThan(0.005)
    // until then what closes has made a surge
    run(site, 20)
    expectPossible(site)
  })

  it('speeds up by n/T_m a second when its load is lost, and not beyond runaway at the head that there is', () => {
    // trade dossier, section 4.2: load rejection raises speed at about n/T_m per second; sheet and runs leave friction out
    const site = siteOf(machine, false)
    set(site, { protection: false, ...(hasHelp(machine) ? { battery: false } : {}) })
    run(site, 20)
    const before = truthOf(site, 'speed')
    lose(site, machine)
    run(site, 0.002)
    const start = truthOf(site, 'speed')
    const wait = 0.04 * rated.acceleration
    run(site, wait)
    const rate = ((truthOf(site, 'speed') - start) / before / wait) * rated.acceleration
    expect(rate).toBeGreaterThan(0.85)
    expect(rate).toBeLessThan(1.1)
    let highest = 0
    let head = rated.head
    for (let t = 0; t < 30; t += 0.5) {
      run(site, 0.5)
      head = Math.max(head, truthOf(site, 'netHead'))
      highest = Math.max(highest, truthOf(site, 'speed'))
    }
    expect(highest / rated.speed).toBeGreaterThan(1.25)
    expect(highest).toBeLessThan(rated.runaway * Math.sqrt(head / rated.head) * 1.005)
  })

  it('is caught by its protection or a person, stops the water, and comes back to its power', () => {
    const site = siteOf(machine)
    run(site, 5)
    const isByHand = seed % 2 === 1
    if (isByHand) set(site, { 'emergency-stop': true })
    else lose(site, machine)
    run(site, 40)
    expectPossible(site)
    if (!isByHand) expect(truthOf(site, 'tripped.1')).toBe(1)
    expect(truthOf(site, 'discharge') / rated.discharge).toBeLessThan(0.01)
    const coasting = truthOf(site, 'speed')
    run(site, 1)
    expect(truthOf(site, 'speed') === 0 || truthOf(site, 'speed') < coasting).toBe(true)
    // a reset above the level of the switch is none
    for (let t = 0; t < 120 && truthOf(site, 'speed') > 1.1 * rated.speed; t++) run(site, 1)
    set(site, { 'emergency-stop': false })
    regain(site, machine)
    run(site, 90)
    expectPossible(site)
    expect(truthOf(site, 'activePower') / rated.power).toBeGreaterThan(0.9)
    expect(Math.abs(truthOf(site, 'speed') / rated.speed - 1)).toBeLessThan(0.04)
  })
})
