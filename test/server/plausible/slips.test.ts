import { describe, expect, it } from 'vitest'
import { checked, TURGO } from './turgo.ts'

/** 6 pole pairs and −1.2 % slip: as that of the demo plant on the grid. */
const MILL = TURGO.replace('kind: synchronous', 'kind: induction')
  .replace('driveRatio: 1', 'driveRatio: 1.012')
  .replace('ratedSpeed: 1500 /min\n  overSpeed', 'ratedSpeed: 1518 /min\n  overSpeed')

const withSlip = (from: string, to: string, text = TURGO) => {
  if (!text.includes(from)) throw new Error(`"${from}" does not stand in the file`)
  return text.replace(from, to)
}

describe('--check with a slip of the pen in the plant file', () => {
  it.each([TURGO, MILL])('says nothing of a file without one', (text) => {
    expect(checked(text)).toEqual({ runs: true, sentences: [] })
  })

  // f = n·p/60, IEC 60034-1: 1500 /min with 2 pole pairs are 50 Hz
  it.each([
    ['polePairs: 2', 'polePairs: 4', /polePairs: found 4, expected 2: .*100 Hz, not 50 Hz \(number of poles/],
    ['polePairs: 2', 'polePairs: 3', /polePairs: found 3, .*make 75 Hz, not 50 Hz/],
    ['ratedFrequency: 50 Hz', 'ratedFrequency: 60 Hz', /polePairs: found 2, .*make 50 Hz, not 60 Hz/],
    ['driveRatio: 1\n', 'driveRatio: 2\n', /driveRatio: found 2, expected 1, as generator \(1500 \/min\)/],
  ])('doubts what turns: %s written %s', (from, to, sentence) => {
    expect(checked(withSlip(from, to)).sentences.join('\n')).toMatch(sentence)
  })

  // P = ρgQH: 1000·9.81·0.04426·48 = 20.84 kW (the sheet has 20.83)
  it.each([
    [
      'ratedShaftPower: 16.67 kW',
      'ratedShaftPower: 16.67 W',
      /ratedShaftPower: found 16.67 W, .*bring 21 kW \(a factor of 1000: kilo\?\)/,
    ],
    [
      'ratedDischarge: 44.26 L/s',
      'ratedDischarge: 44.26 m3/s',
      /ratedShaftPower: .*44.26 m3\/s at 48 m.*kilo/,
    ],
    [
      'ratedPower: 15 kW',
      'ratedPower: 15 MW',
      /ratedPower: found 15000 kW, .*turbine gives 17 kW \(a factor of 1000/,
    ],
    ['ratedNetHead: 48 m', 'ratedNetHead: 4.8 m', /ratedShaftPower: .*bring 2080 W/],
  ])('doubts ratings that the water cannot bring: %s written %s', (from, to, sentence) => {
    expect(checked(withSlip(from, to)).sentences.join('\n')).toMatch(sentence)
  })

  // √(2gH) = 30.69 m/s at 48 m, u = 13.74 m/s: 0.448; with the radius in its place 0.224
  it.each([
    [
      'pitchDiameter: 175 mm',
      'pitchDiameter: 87.5 mm',
      /pitchDiameter: found 87.5 mm, .*0.22 of √\(2gH\) \(the radius\?\)/,
    ],
    ['pitchDiameter: 175 mm', 'pitchDiameter: 175 m', /pitchDiameter: found 175 m, .*mm read as m/],
    ['kind: turgo', 'kind: kaplan', /pitchDiameter: .*for a kaplan runner/],
    [
      'runawaySpeed: 2763 /min',
      'runawaySpeed: 5526 /min',
      /runawaySpeed: found 5526 \/min, expected 1.6 to 2.1 times/,
    ],
    [
      'overSpeedCapability: 2800 /min',
      'overSpeedCapability: 1800 /min',
      /overSpeedCapability: found 1800 \/min, expected at least the runaway speed/,
    ],
  ])('doubts the runner: %s written %s', (from, to, sentence) => {
    expect(checked(withSlip(from, to)).sentences.join('\n')).toMatch(sentence)
  })

  // v = 4Q/πD²: 1.434 m/s in 198.2 mm (the sheet)
  it.each([
    ['inletBore: 198.2 mm', 'inletBore: 19.82 mm', /inletBore: found 19.82 mm, .*143 m\/s/],
    [
      'inletBore: 198.2 mm',
      'inletBore: 7.5 m',
      /inletBore: found 7.5 m, expected a bore in which 44.26 L\/s/,
    ],
    [
      'bore: 198.2 mm, length',
      'bore: 198.2 m, length',
      /penstock.bore: found 198.2 m, .*another unit: mm, cm, m\?/,
    ],
    [
      'nozzleBore: 32.0 mm',
      'nozzleBore: 320 mm',
      /nozzleBore: found 0.32 m, expected 2 nozzles narrower than the pipe before/,
    ],
    ['nozzleBore: 32.0 mm', 'nozzleBore: 16 mm', /nozzleBore: found 16 mm, .*these pass 25 % of it/],
    ['length: 310 m', 'length: 31 m', /penstock.length: found 31 m, expected at least the head/],
    ['roughness: 0.05 mm', 'roughness: 0.05 m', /penstock.roughness: found 50 mm/],
    ['bore: 120 mm', 'bore: 190 mm', /orifice.bore: found 0.19 m, expected 10 to 75 %/],
  ])('doubts pipes and nozzles: %s written %s', (from, to, sentence) => {
    expect(checked(withSlip(from, to)).sentences.join('\n')).toMatch(sentence)
  })

  it.each([
    [
      'inletGauge: 212.9 m',
      'inletGauge: 0.5 m',
      /inletGauge: found 0.5 m, expected about 212.4 m, where the turbine is/,
    ],
    [
      'turbine: 212.4 m, inletGauge: 212.9 m, headwaterZero: 262 m',
      'turbine: 262 m, inletGauge: 262 m, headwaterZero: 212.4 m',
      /headwaterZero: .*gross head would be negative/,
    ],
    ['headwaterZero: 262 m', 'headwaterZero: 240 m', /headwaterZero: found 240 m, .*31 m at most/],
    [
      'turbine: 212.4 m, inletGauge: 212.9 m',
      'turbine: 0 m, inletGauge: 0.5 m',
      /headwaterZero: .*gross head would be 262 m and more/,
    ],
  ])('doubts heights that do not go together: %s written %s', (from, to, sentence) => {
    expect(checked(withSlip(from, to)).sentences.join('\n')).toMatch(sentence)
  })

  // 15 kW at 230 V and 24.1 A are a power factor of 0.902; with 400 V 0.519
  it.each([
    [
      'ratedVoltage: 230 V',
      'ratedVoltage: 400 V',
      /ratedVoltage: found 400 V, .*power factor of 0.52 \(the voltage between phases/,
    ],
    ['ratedCurrent: 24.1 A', 'ratedCurrent: 24.1 mA', /ratedVoltage: .*kilo/],
    ['inertia: 1.2 kg.m2', 'inertia: 12000 kg.m2', /inertia: found 12000 kg.m2/],
    ['dump: { ratedPower: 18 kW }', 'dump: { ratedPower: 18 W }', /dump.ratedPower: found 18 W, .*kilo/],
    ['ratedCharge: 400 A.h', 'ratedCharge: 400 C', /ratedCharge: found 0.1111 A.h/],
  ])('doubts the electrical side: %s written %s', (from, to, sentence) => {
    expect(checked(withSlip(from, to)).sentences.join('\n')).toMatch(sentence)
  })

  it.each([
    [
      'nozzleCoefficient: 0.8966',
      'nozzleCoefficient: 0.09',
      /nozzleCoefficient: found 0.09, expected 0.55 to 1/,
    ],
    ['velocityCoefficient: 0.97', 'velocityCoefficient: 0.5', /velocityCoefficient: found 0.5/],
    [
      'coefficient: 1.8 }',
      'coefficient: 0.6 }',
      /spillway.coefficient: found 0.6, expected 1.3 to 2.3: C in Q/,
    ],
    ['waveSpeed: 290 m/s', 'waveSpeed: 2900 m/s', /waveSpeed: found 2900 m\/s, .*no faster than sound/],
    ['[1.0, 0.80]]', '[100, 0.80]]', /efficiencyCurve: found points up to 100, .*half load is 0.5, not 50/],
    [
      '[[0.257, 0.745], [0.511, 0.80], [1.0, 0.80]]',
      '[[0.5, 0.0062], [1, 0.0065]]',
      /efficiencyCurve: found at best 0.0065/,
    ],
    ['waterDensity: 999.7', 'waterDensity: 909', /waterDensity: found 909 kg\/m3/],
    ['gravity: 9.81', 'gravity: 9.71', /gravity: found 9.71 m\/s2/],
    ['dailyVolume: 3900 m3', 'dailyVolume: 3900 L', /dailyVolume: found 3.9 m3/],
    ['maximumDischarge: 45 L/s', 'maximumDischarge: 45 m3/s', /maximumDischarge: found 45 m3\/s/],
  ])('doubts numbers far from their band: %s written %s', (from, to, sentence) => {
    expect(checked(withSlip(from, to)).sentences.join('\n')).toMatch(sentence)
  })

  it.each([
    ['span: 0.25 %', 'span: 0.25', /accuracy.span: found 25 %/],
    [
      'absolute: 1 }',
      'absolute: 3000 }',
      /accuracy.absolute: found 3000 \/min, expected a small part of the range, which spans 4000/,
    ],
    [
      'unit: kW, range: [0, 25]',
      'unit: kW, range: [0, 25000]',
      /range: found \[0, 25000\] kW, expected a range around the rated value, 15 kW \(a factor of 1000/,
    ],
    ['unit: bar, range: [0, 10]', 'unit: kPa, range: [0, 10]', /range: found \[0, 10\] kPa/],
    [
      'unit: /min, range: [0, 4000]',
      'unit: rad/s, range: [0, 100]',
      /range: found \[0, 100\] rad\/s, expected a range around the rated value, 157/,
    ],
  ])('doubts instruments: %s written %s', (from, to, sentence) => {
    expect(checked(withSlip(from, to)).sentences.join('\n')).toMatch(sentence)
  })

  const THERMOMETERS = `  - { id: bearing, role: bearingTemperature.1, topic: b/tb, unit: Cel, range: [-20, 120] }
  - { id: air, role: ambientTemperature, topic: b/ta, unit: Cel }
figures:
  - { id: rise, name: Own rise, formula: bearingTemperature - ambientTemperature, inputs: { bearingTemperature: bearingTemperature.1 }, unit: K }
alarms:
  - { id: hot, name: Hot, priority: low, kind: high, figure: rise, limit: 45 K }
  - { id: warm, name: Warm, priority: low, kind: high, figure: bearingTemperature.1, limit: 80 Cel }
  - { id: pressure, name: High, priority: low, kind: high, figure: inletPressure, limit: 6 bar }
`

  it.each([
    [
      'unit: K }\nalarms',
      'unit: Cel }\nalarms',
      /figures\[0\].unit: found "Cel", expected "K": its formula is a difference of temperatures/,
    ],
    [
      'limit: 45 K',
      'limit: 45 Cel',
      /alarms\[0\].limit: found "45 Cel", expected "45 K": Own rise is a difference .* taken as a rise of 45 K/,
    ],
    [
      'limit: 80 Cel',
      'limit: 80 K',
      /alarms\[1\].limit: found "80 K", expected a temperature such as "80 Cel": 80 K is −193.*°C/,
    ],
    [
      'limit: 80 Cel',
      'limit: 800 Cel',
      /alarms\[1\].limit: found "800 Cel", expected a limit in the range of its instrument, −20 to 120 Cel/,
    ],
    [
      'limit: 6 bar',
      'limit: 60 bar',
      /alarms\[2\].limit: found "60 bar", .*0 to 10 bar: what lies beyond is a bad reading/,
    ],
  ])('doubts temperatures and limits: %s written %s', (from, to, sentence) => {
    expect(checked(TURGO + THERMOMETERS)).toEqual({ runs: true, sentences: [] })
    expect(checked(withSlip(from, to, TURGO + THERMOMETERS)).sentences.join('\n')).toMatch(sentence)
  })

  it('names the plate of a motor on an induction generator: below 1500 /min it takes power', () => {
    const { sentences, runs } = checked(withSlip('1518 /min', '1482 /min', MILL))
    expect(sentences.join('\n')).toMatch(
      /generator.ratedSpeed: found 1482 \/min, expected a speed above 1500 \/min.*motor/,
    )
    expect(runs).toBe(true)
  })

  it('lets every doubtful plant run, and says so with line and path', () => {
    const { sentences, runs } = checked(withSlip('polePairs: 2', 'polePairs: 4'))
    expect(runs).toBe(true)
    expect(sentences[0]).toMatch(/^:30: doubtful: generator\.polePairs/)
  })
})

describe('a plant file that says what cannot be', () => {
  it.each([
    ['latitude: 54.5 deg', 'latitude: 54.5 rad', /latitude: found 3123 deg, .*not "rad"/],
    ['gravity: 9.81', 'gravity: 981', /gravity: found 981 m\/s2, .*981 would be cm\/s2/],
    ['waterDensity: 999.7', 'waterDensity: 1', /waterDensity: found 1 kg\/m3, .*1 would be g\/cm3/],
    [
      'waterTemperature: 10 Cel',
      'waterTemperature: 20 K',
      /waterTemperature: found −253.1 Cel, .*not "20 K"/,
    ],
    [
      'nozzleCoefficient: 0.8966',
      'nozzleCoefficient: 94',
      /nozzleCoefficient: found 94, .*94 by itself is 9400 %/,
    ],
    ['velocityCoefficient: 0.97', 'velocityCoefficient: 97', /velocityCoefficient: found 97/],
    [
      '[0.511, 0.80]',
      '[0.511, 62]',
      /efficiencyCurve\[1\]: found 62, expected a share from 0 to 1, such as 0.62/,
    ],
    ['chargeEfficiency: 0.98', 'chargeEfficiency: 98', /chargeEfficiency: found 98/],
    [
      'reading: 1 %',
      'reading: 50',
      /accuracy.reading: found 5000 %, expected limits of error of at most 100 %/,
    ],
    [
      'bore: 120 mm',
      'bore: 220 mm',
      /orifice.bore: found 0.22 m, expected a bore smaller than that of its pipe, 0.2 m/,
    ],
    [
      'bore: 198.2 mm, length',
      'bore: -198.2 mm, length',
      /penstock.bore: found −0.1982 m, expected an amount that is not negative/,
    ],
  ])('is refused: %s written %s', (from, to, sentence) => {
    const { sentences, runs } = checked(withSlip(from, to))
    expect(runs).toBe(false)
    expect(sentences[0]).toMatch(sentence)
    expect(sentences[0]).toMatch(/^:\d+: /)
  })
})
