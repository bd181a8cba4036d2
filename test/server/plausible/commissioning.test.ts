import { describe, expect, it } from 'vitest'
import { checked, TURGO } from './turgo.ts'

const missing = (text: string) => checked(text, 'missing').sentences

describe('what a plant file leaves out', () => {
  it('is told with what counts until then', () => {
    expect(missing(TURGO)).toEqual([])
    expect(missing(TURGO.replace(', accuracy: { reading: 1 % }', ''))).toEqual([
      expect.stringMatching(
        /^:\d+: missing: instruments\[2\]\.accuracy: found nothing, expected what its plate .* ± 2 % of reading \(assumed: /,
      ),
    ])
    expect(missing(TURGO.replace(', headwaterZero: 262 m', ''))).toEqual([
      expect.stringMatching(/missing: site\.elevations\.headwaterZero: .*until then it counts as 0 m/),
    ])
    expect(missing(TURGO.replace('headwaterZero: 262 m', 'headwaterZero: 0 m'))).toEqual([])
  })
})

describe('what a counter alarm never reaches', () => {
  const alarm = (counter: string, limit: string) =>
    checked(
      `${TURGO}alarms: [{ id: c, name: C, kind: counter, counter: ${counter}, limit: ${limit}, priority: low }]\n`,
    ).sentences.join()
  // a day has 24 h; 15 kW make 360 kWh in it, 44.26 L/s 3824 m³
  it('is doubted', () => {
    expect(alarm('runSeconds', '2000 h')).toMatch(
      /limit: found "2000 h".*of today, which has 24 h, so it never/,
    )
    expect(alarm('runSeconds', '20 h')).toBe('')
    expect(alarm('energyGenerated', '5 MWh')).toMatch(/comes to no more than that at generator.ratedPower/)
    expect(alarm('energyGenerated', '300 kWh')).toBe('')
    expect(alarm('waterVolume', '1250000 m3')).toMatch(/turbine.ratedDischarge all day/)
  })
})

describe('the voltage of a plate', () => {
  const plate = (volts: string) =>
    checked(
      TURGO.replace('ratedVoltage: 230 V', `ratedVoltage: ${volts}`).replace('  ratedCurrent: 24.1 A\n', ''),
    ).sentences.join()
  // 400 V / √3 = 230.9 V (IEC 60038)
  it('is doubted where it is mostly that between phases, unless the current tells', () => {
    expect(plate('400 V')).toMatch(/ratedVoltage: found 400 V.*which is 231 V here/)
    expect(plate('230 V')).toBe('')
    expect(checked(TURGO.replace('ratedVoltage: 230 V', 'ratedVoltage: 400 V')).sentences.join()).toMatch(
      /between phases in place of phase to neutral/,
    )
  })
})
