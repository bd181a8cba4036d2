import { describe, expect, it } from 'vitest'
import { counterBench, HOUR, MINUTE } from '../../../support/counterBench.ts'
import { faultsOfPlant, plantOf, plantText } from '../../../support/plants.ts'

const KWH = 3.6e6
const START = Date.parse('2026-06-10T00:00:00Z')

const PLANT = (more: string) => `
use: gridTied
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 15 kW }
instruments:
  - { id: power, role: activePower, topic: mill/power, unit: W, period: 1 min }
${more}
`
const GRID = '  - { id: grid, role: gridPower, topic: mill/grid, unit: kW, period: 1 min }'
const METERS = `
  - { id: out, role: exportMeter, topic: mill/out, unit: kWh, period: 1 min, accuracy: { resolution: 0.1 } }
  - { id: in, role: importMeter, topic: mill/in, unit: kWh, period: 1 min, accuracy: { resolution: 0.1 } }`

describe('the grid side of a plant', () => {
  // by hand: 10 kW are made and 2 kW used, so 8 kWh go out in an hour
  it('is what is measured there, not what the machine makes', () => {
    const bench = counterBench(plantOf(PLANT(GRID)))
    for (let at = START; at <= START + HOUR; at += MINUTE)
      bench.step(at, { activePower: 10_000, gridPower: 8000 })
    expect(bench.counter('energyGenerated').value / KWH).toBeCloseTo(10, 6)
    expect(bench.counter('energyExported').value / KWH).toBeCloseTo(8, 6)
    expect(bench.counter('energyImported').value).toBe(0)
  })

  it('is read from the billing meters where there are any', () => {
    const bench = counterBench(plantOf(PLANT(METERS)))
    for (let at = START; at <= START + HOUR; at += MINUTE) {
      const share = (at - START) / HOUR
      bench.step(at, {
        activePower: 10_000,
        exportMeter: (700 + Math.floor(79 * share) / 10) * KWH,
        importMeter: 20 * KWH,
      })
    }
    expect(bench.counter('energyExported')).toMatchObject({ source: 'meter' })
    expect(bench.counter('energyExported').value / KWH).toBeCloseTo(7.9, 6)
    expect(bench.counter('energyImported').value).toBe(0)
  })
})

describe('instruments of which a machine has several', () => {
  it('are numbered, or one of them is not', () => {
    const two = (role: string, unit: string) =>
      faultsOfPlant(
        plantText(`instruments:
  - { id: a, role: ${role}, topic: a, unit: ${unit} }
  - { id: b, role: ${role}.2, topic: b, unit: ${unit} }`),
      )
    for (const [role, unit] of [
      ['vibration', 'mm/s'],
      ['windingTemperature', 'Cel'],
      ['gridVoltage', 'V'],
    ] as const)
      expect(two(role, unit)).toEqual([])
  })
})
