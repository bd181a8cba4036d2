import { describe, expect, it } from 'vitest'
import { scenarios } from '../../simulator/scenarios/index.ts'
import { createScenarioPlayer, type Scenario } from '../../simulator/scenarios/scenario.ts'
import type { Site } from '../../simulator/site.ts'
import { BUNDLED } from '../../simulator/siteFile.ts'
import { idealSite, PER_MINUTE, run, set, truthOf } from './settle.ts'

const ids = BUNDLED

function started(id: string, scenario: string): Site {
  const site = idealSite(id)
  run(site, 1)
  set(site, { scenario })
  return site
}

/** Topics that fall due during half a second of wall clock, sampled every 20 ms. */
function topicsOf(site: Site, from: number): Set<string> {
  const topics = new Set<string>()
  for (let i = 0; i < 25; i++) for (const { topic } of site.messages(from + 20 * i)) topics.add(topic)
  return topics
}

describe.each(ids)('at %s', (id) => {
  it.each(scenarios.map((one) => one.id))('scenario %s names only controls that the plant has', (name) => {
    const site = idealSite(id)
    const steps = scenarios.find((one) => one.id === name)!.steps[id]!
    expect(steps.length).toBeGreaterThan(0)
    for (const { control, value } of steps) expect(site.command(control, value)).toBeUndefined()
    expect(steps.map((step) => step.at)).toEqual(steps.map((step) => step.at).sort((a, b) => a - b))
  })

  it('loadRejection leads to more than 120 % speed and ends with the plant running again', () => {
    const site = started(id, 'loadRejection')
    const rated = truthOf(site, 'speed')
    let highest = 0
    for (let t = 0; t < 15; t += 0.05) {
      run(site, 0.05)
      highest = Math.max(highest, truthOf(site, 'speed'))
    }
    expect(highest / rated).toBeGreaterThan(1.2)
    run(site, 225)
    expect(truthOf(site, 'tripped.1')).toBe(0)
    expect(Math.abs(truthOf(site, 'speed') / rated - 1)).toBeLessThan(0.03)
    expect(truthOf(site, 'activePower')).toBeGreaterThan(100)
  })

  it('jetClosing takes discharge away and gives it back', () => {
    const site = started(id, 'jetClosing')
    const before = truthOf(site, 'discharge')
    run(site, 60)
    expect(truthOf(site, 'discharge')).toBeLessThan(0.8 * before)
    run(site, 200)
    expect(truthOf(site, 'discharge') / before).toBeCloseTo(1, 1)
  })

  it('sensorLost makes the speed silent while the machine runs on, then lets it speak again', () => {
    const topic = `${id}/${id === 'skelderwath' ? 'generator' : 'rotor'}/speed`
    const site = started(id, 'sensorLost')
    run(site, 4)
    expect(topicsOf(site, 0)).toContain(topic)
    run(site, 4)
    expect(topicsOf(site, 10_000)).not.toContain(topic)
    expect(truthOf(site, 'speed') / PER_MINUTE).toBeGreaterThan(1000)
    run(site, 120)
    expect(topicsOf(site, 20_000)).toContain(topic)
  })

  it('sensorStuck freezes a pressure that really changes', () => {
    const pressure = pressureTopic(id)
    const site = started(id, 'sensorStuck')
    run(site, 10)
    const payload = (now: number) => site.messages(now).find((one) => one.topic === pressure)!.payload
    const frozen = payload(0)
    const before = truthOf(site, 'inletPressure')
    run(site, 60)
    expect(Math.abs(truthOf(site, 'inletPressure') / before - 1)).toBeGreaterThan(0.01)
    expect(payload(10_000)).toBe(frozen)
    run(site, 100)
    set(site, { fault: 'none' })
    expect(payload(20_000)).not.toBe('')
  })

  it('loadSteps changes what is used', () => {
    const site = started(id, 'loadSteps')
    const figure = { quennerby: 'inverterOutputPower', ostrelby: 'loadPower', skelderwath: 'activePower' }[
      id
    ]!
    const seen = new Set<number>()
    for (let i = 0; i < 9; i++) {
      run(site, 20)
      seen.add(Math.round(truthOf(site, figure) / 20))
    }
    expect(seen.size).toBeGreaterThanOrEqual(4)
  })

  it('steadyDay raises no trip and says what is running', () => {
    const site = started(id, 'steadyDay')
    run(site, 60)
    expect(truthOf(site, 'tripped.1')).toBe(0)
    const states = site.messages(0).filter((one) => one.topic.endsWith('/state/scenario'))
    expect(states.map((one) => one.payload)).toEqual(['steadyDay'])
  })
})

describe('the player of scenarios', () => {
  const play = (scenario: Scenario) => {
    const played: string[] = []
    const player = createScenarioPlayer('mill', ({ control }) => played.push(control))
    player.start(scenario)
    return { player, played }
  }
  const steps = {
    mill: [
      { at: 1, control: 'first', value: true },
      { at: 2, control: 'second', value: true },
    ],
  }

  it('gives each step at its time, once, and is then done', () => {
    const { player, played } = play({ id: 'x', summary: '', steps })
    player.step(1.5)
    expect(played).toEqual(['first'])
    player.step(1)
    player.step(10)
    expect(played).toEqual(['first', 'second'])
    expect(player.running()).toBe('none')
  })

  it('begins again where the scenario repeats', () => {
    const { player, played } = play({ id: 'x', summary: '', steps, repeatAfter: 10 })
    for (let i = 0; i < 12; i++) player.step(1)
    expect(played).toEqual(['first', 'second', 'first', 'second'])
    expect(player.running()).toBe('x')
  })

  it('does nothing more when it is stopped', () => {
    const { player, played } = play({ id: 'x', summary: '', steps })
    player.start(undefined)
    player.step(10)
    expect(played).toEqual([])
  })
})

function pressureTopic(id: string): string {
  return { quennerby: 'quennerby/manifold/pressure' }[id] ?? `${id}/penstock/pressure`
}

describe('dirtyRack', () => {
  it.each(['ostrelby', 'skelderwath'])(
    'raises the rack differential at %s beyond 0.15 m, then cleans it',
    (id) => {
      const site = started(id, 'dirtyRack')
      const clean = truthOf(site, 'netHead')
      run(site, 500)
      expect(truthOf(site, 'rackDifferential')).toBeGreaterThan(0.15)
      expect(truthOf(site, 'netHead')).toBeLessThan(clean - 0.1)
      run(site, 120)
      expect(truthOf(site, 'rackDifferential')).toBeLessThan(0.06)
    },
  )

  it('makes the pump of the rig work harder for the same head', () => {
    const site = started('quennerby', 'dirtyRack')
    const before = truthOf(site, 'pumpSpeed')
    run(site, 500)
    expect(truthOf(site, 'netHead')).toBeCloseTo(24, 1)
    expect(truthOf(site, 'pumpSpeed')).toBeGreaterThan(before + 0.005)
  })
})
