import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readPlant } from '../../server/plant/load.ts'
import type { Plant } from '../../server/plant/plant.ts'
import { scenarios } from '../../simulator/scenarios/index.ts'
import { sensorFaults } from '../../simulator/sensors/faults.ts'
import { createSite } from '../../simulator/site.ts'
import { BUNDLED, readSite, siteFile } from '../../simulator/siteFile.ts'
import { scratchFolder } from '../support/scratch.ts'
import { idealSite, run, set } from './settle.ts'

const ids = BUNDLED

describe.each(ids)('the plant file of %s', (id) => {
  const path = siteFile(id)
  const plantOf = () => idealSite(id).plant

  it('has no fault', () => {
    expect(readPlant(readFileSync(path, 'utf8'), path)).not.toHaveProperty('faults')
    expect(readSite(path)).toHaveProperty('plant')
  })

  it('describes instruments whose quantities the model has, all within their ranges', () => {
    const site = idealSite(id)
    run(site, 5)
    const truth = site.truth()
    for (const { quantity, range, unit } of site.plant.instruments) {
      expect(truth.has(quantity), quantity).toBe(true)
      if (!range) continue
      const value = (truth.get(quantity)! - unit.offset) / unit.factor
      expect(value, quantity).toBeGreaterThanOrEqual(range[0])
      expect(value, quantity).toBeLessThanOrEqual(range[1])
    }
  })

  it('shows speed at least ten times a second with its peak, as an over-speed needs', () => {
    const speed = plantOf().instruments.find((one) => one.quantity === 'speed')!
    expect(speed.periodMs).toBeLessThanOrEqual(100)
    expect(speed.payload).toHaveProperty('peak')
  })

  it('has controls that the model obeys, with settings that it takes', () => {
    const site = idealSite(id)
    for (const control of site.plant.simulation!.controls) {
      set(site, { [control.id]: control.initial })
      for (const choice of control.choices ?? []) set(site, { [control.id]: choice.id })
    }
  })

  it('offers every scenario, and faults of instruments and kinds that exist', () => {
    const { instruments, simulation } = plantOf()
    const choices = (control: string) =>
      simulation!.controls.find((one) => one.id === control)!.choices!.map((choice) => choice.id)
    expect(choices('scenario')).toEqual(['none', ...scenarios.map((one) => one.id)])
    for (const choice of choices('fault').filter((one) => one !== 'none')) {
      const [instrument, kind] = choice.split(':')
      expect(instruments.map((one) => one.id)).toContain(instrument)
      expect(Object.keys(sensorFaults)).toContain(kind)
    }
  })

  it('keeps every topic under the name of the plant, each said by one format', () => {
    const { instruments, simulation } = plantOf()
    const topics = [...instruments, ...simulation!.controls].map((one) => one.topic)
    expect(topics.filter((topic) => !topic.startsWith(`${id}/`))).toEqual([])
    const formats = new Map<string, Set<string>>()
    for (const { topic, payload } of instruments) {
      const format = payload === 'number' ? 'number' : payload.format
      formats.set(topic, (formats.get(topic) ?? new Set()).add(format))
    }
    expect([...formats.values()].filter((set) => set.size > 1)).toEqual([])
  })

  it('stays calm: at most forty alarms and notices, at most two of high priority', () => {
    const { alarms } = plantOf()
    expect(alarms.length).toBeLessThanOrEqual(40)
    expect(alarms.filter((alarm) => alarm.priority === 'high').length).toBeLessThanOrEqual(2)
    expect(alarms.filter((alarm) => !alarm.cause || !alarm.consequence || !alarm.action)).toEqual([])
  })
})

describe('the reading of a plant file by the simulator', () => {
  const playing = (change: (text: string) => string) => {
    const folder = scratchFolder()
    const read = readSite(folder.file('foreign.yaml', change(readFileSync(siteFile('skelderwath'), 'utf8'))))
    folder.remove()
    return read
  }

  it('takes a plant that it does not know by name', () => {
    const read = playing((text) => text.replace('id: skelderwath', 'id: mill'))
    const site = createSite('mill', { plant: (read as { plant: Plant }).plant, ideal: true })
    run(site, 5)
    // rated power of the file
    expect(site.truth().get('activePower')! / 90_000).toBeCloseTo(1, 2)
    expect(site.command('scenario', 'loadRejection')).toBe(
      'command "scenario": "loadRejection" has no steps for mill.',
    )
  })

  const refused: [string, (text: string) => string, string[]][] = [
    [
      'that is real',
      (text) => text.replace(/simulated: true/, '').replace(/^simulation:[\s\S]*/m, ''),
      ['simulated: found false, expected true: a real plant is never played over'],
    ],
    [
      'without ratings',
      (text) => text.replace(/ {2}ratedNetHead:.*\n/, '').replace(/ {2}inertia:.*\n/, ''),
      [
        'turbine.ratedNetHead: found nothing, expected an amount, for the simulator plays with it',
        'generator.inertia: found nothing, expected an amount, for the simulator plays with it',
      ],
    ],
    [
      'with a machine that is not played',
      (text) => text.replace('kind: induction', 'kind: directCurrent'),
      ['generator.kind: found directCurrent, expected induction or synchronous for "grid"'],
    ],
    [
      'that feeds nothing',
      (text) => text.replace(/^ {4}grid: .*$/m, ''),
      ['simulation.built: found nothing, expected one of bus, island and grid'],
    ],
    [
      'with something unknown',
      (text) => text.replace('breakdownSlip: 0.06', 'breakdownSlip: often'),
      ['simulation.built.generator.breakdownSlip: found "often", expected a number such as 0.94'],
    ],
  ]
  it.each(refused)('says of one %s what is wrong, and where', (_what, change, sentences) => {
    const read = playing(change)
    const faults = 'faults' in read ? read.faults : []
    for (const sentence of sentences)
      expect(faults).toContainEqual(expect.stringMatching(new RegExp(`yaml(:\\d+)?: ${sentence}`)))
    expect(faults.length).toBe(sentences.length)
  })

  it('says when there is no such file', () => {
    expect(readSite('/nowhere/mill.yaml')).toEqual({
      faults: [expect.stringContaining('The plant file /nowhere/mill.yaml cannot be read')],
    })
  })
})
