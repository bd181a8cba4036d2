import { describe, expect, it } from 'vitest'
import { explainFigure } from '../../../../server/derive/explain.ts'
import { figureBench, figureOf } from '../../../support/figureBench.ts'

// "references n.m" is a section of test/reference/README.md.
describe('flow that follows from other readings', () => {
  it('of an orifice plate in water has no gas expansibility (references 7.6, 20 °C)', () => {
    const sections = {
      orifice: '{ bore: 60 mm, pipeBore: 100 mm }',
      site: 'waterDensity: 998.2 kg/m3, waterTemperature: 20 Cel',
    }
    const bench = figureBench(sections, { meterPressureDifference: '25 kPa' })
    expect(bench.view('meterFlow').value! * 1000).toBeCloseTo(13.057288, 3)
    expect(bench.view('discharge').value).toBe(bench.view('meterFlow').value)
  })

  it('of an orifice plate is nothing at rest, and not known where its difference is negative', () => {
    const orifice = { orifice: '{ bore: 60 mm, pipeBore: 100 mm }' }
    const at = (difference: string) =>
      figureBench(orifice, { meterPressureDifference: difference }).view('discharge')
    expect(at('0 Pa')).toMatchObject({ value: 0, quality: 'good' })
    expect(at('-50 Pa').value).toBe(0)
    expect(at('-5 kPa').value).toBeNull()
    expect(at('-5 kPa').reasons.join()).toContain('the water runs back, or its lines are swapped')
  })

  it('over a rectangular weir adds 1 mm to the head (references 7.1)', () => {
    const weir = '{ crestHeight: 0.30 m, crestWidth: 0.60 m, channelWidth: 0.60 m }'
    const sections = { weir, site: 'gravity: 9.80665 m/s2' }
    expect(figureOf('weirFlow', { weirHead: '0.12 m' }, sections)).toBeCloseTo(0.04705205, 7)
    for (const head of ['0 m', '-0.05 m'])
      expect(figureBench(sections, { weirHead: head }).view('weirFlow')).toMatchObject({
        value: 0,
        quality: 'good',
      })
    const notch = { weir: '{ notchAngle: 90 deg }' }
    expect(figureBench(notch, { weirHead: '-0.05 m' }).view('weirFlow')).toMatchObject({ value: 0 })
  })
})

const WATER_20 = 'waterDensity: 998.2 kg/m3, waterTemperature: 20 Cel'

describe('a meter of a pressure difference', () => {
  it.each([
    // a public fluids library, coefficient by ISO 5167-2, iterated with ε = 1
    ['corner', 13.05728764],
    ['flange', 13.06863659],
    ['radius', 13.08889007],
  ])('is an orifice plate with taps %s: %d L/s', (tappings, litres) => {
    const orifice = `{ bore: 60 mm, pipeBore: 100 mm, tappings: ${tappings} }`
    const bench = figureBench({ orifice, site: WATER_20 }, { meterPressureDifference: '25 kPa' })
    expect(bench.view('meterFlow').value! * 1000).toBeCloseTo(litres, 4)
    expect(bench.view('meterFlow').quality).toBe('good')
  })

  it.each([
    // references 7.7: 15.643509 L/s at 0.995, others by their coefficient in ISO 5167-4, from memory
    ['machined', 15.643509],
    ['asCast', (15.643509 * 0.984) / 0.995],
    ['welded', (15.643509 * 0.985) / 0.995],
  ])('is a venturi tube whose convergent is %s: %d L/s', (convergent, litres) => {
    const venturi = `{ throat: 50 mm, pipeBore: 100 mm, convergent: ${convergent} }`
    const flow = figureOf('discharge', { meterPressureDifference: '30 kPa' }, { venturi, site: WATER_20 })
    expect(flow * 1000).toBeCloseTo(litres, 5)
  })

  it('is refused where the throat is as wide as the pipe', () => {
    const venturi = '{ throat: 100 mm, pipeBore: 100 mm, convergent: machined }'
    expect(() => figureBench({ venturi }, { meterPressureDifference: '30 kPa' })).toThrow(/venturi.throat/)
  })

  it('indexFlow grows with the power of the difference from the point of the plant file (IEC 60041, by hand)', () => {
    const taps = (more = '') => ({
      indexTaps: `{ discharge: 2.0 m3/s, pressureDifference: 10 kPa${more} }`,
    })
    const at = (pressure: string, more?: string) =>
      figureBench(taps(more), { indexPressureDifference: pressure })
    expect(at('10 kPa').view('indexFlow').value).toBeCloseTo(2, 12)
    expect(at('2.5 kPa').view('discharge').value).toBeCloseTo(1, 12)
    expect(at('2.5 kPa', ', exponent: 0.49').view('discharge').value).toBeCloseTo(2 * 0.25 ** 0.49, 12)
    expect(at('0 kPa').view('discharge')).toMatchObject({ value: 0, quality: 'good' })
    expect(at('-2 kPa').view('discharge').value).toBeNull()
    expect(at('2.5 kPa', ', exponent: 0.6').view('indexFlow').reasons).toEqual([
      'outside IEC 60041: the exponent of index taps is 0.48 to 0.52',
    ])
    expect(at('0.3 kPa').view('indexFlow').reasons.join()).toMatch(/^far from the point/)
  })
})

/** Reasons of a flow, all of which are that it is outside of its standard; its value stands. */
function outside(figure: string, sections: Record<string, string>, readings: Record<string, string>) {
  const view = figureBench({ site: WATER_20, ...sections }, readings).view(figure)
  expect(view.value).toBeGreaterThan(0)
  expect(view.quality).toBe(view.reasons.length > 0 ? 'uncertain' : 'good')
  return view.reasons
}

describe('the limits of ISO 1438 (from memory; the least head over a notch, 0.2 ft, also USBR, Water Measurement Manual, chapter 7)', () => {
  const over = (weir: string, head: string) => outside('weirFlow', { weir }, { weirHead: head })

  it('of a V-notch are 0.06 to 0.38 m of head and 20 to 100 degrees', () => {
    const notch = '{ notchAngle: 90 deg }'
    expect(over(notch, '20 mm')).toEqual(['outside ISO 1438: the head over the notch is below 0.06 m'])
    expect(over(notch, '400 mm')).toEqual(['outside ISO 1438: the head over the notch is above 0.38 m'])
    for (const head of ['61 mm', '379 mm']) expect(over(notch, head)).toEqual([])
    expect(over('{ notchAngle: 15 deg }', '0.2 m')).toEqual([
      'outside ISO 1438: the angle of the notch is not 20° to 100°',
    ])
  })

  it('of a fully contracted V-notch are judged where floor and channel are known', () => {
    const notch = (height: string, width: string) =>
      `{ notchAngle: 90 deg, crestHeight: ${height}, channelWidth: ${width} }`
    expect(over(notch('0.5 m', '1.2 m'), '0.2 m')).toEqual([])
    expect(over(notch('0.5 m', '1.2 m'), '0.22 m')).toHaveLength(1)
    expect(over(notch('0.4 m', '0.8 m'), '0.1 m')).toHaveLength(2)
  })

  it('of a rectangular weir are 0.03 m of head, 2.5 crest heights, and sides that contract by 0.10 m or not', () => {
    const weir = (more: string) => `{ ${more} }`
    const full = weir('crestHeight: 0.30 m, crestWidth: 0.60 m, channelWidth: 0.60 m')
    expect(over(full, '0.12 m')).toEqual([])
    expect(over(full, '25 mm')).toEqual(['outside ISO 1438: the head is below 0.03 m'])
    expect(over(full, '0.76 m')).toEqual(['outside ISO 1438: the head is above 2.5 times the crest height'])
    expect(over(weir('crestHeight: 0.30 m, crestWidth: 0.50 m, channelWidth: 0.60 m'), '0.12 m')).toEqual([
      'outside ISO 1438: the contraction at each side is neither none nor at least 0.10 m',
    ])
    expect(over(weir('crestHeight: 0.09 m, crestWidth: 0.14 m, channelWidth: 0.60 m'), '0.1 m')).toHaveLength(
      2,
    )
  })

  it('say nothing of a dry weir', () => {
    const dry = figureBench({ weir: '{ notchAngle: 90 deg }' }, { weirHead: '0 m' }).view('weirFlow')
    expect(dry).toMatchObject({ value: 0, quality: 'good', reasons: [] })
  })
})

describe('the limits of ISO 5167 (from memory)', () => {
  const plate = (more: string, dp = '25 kPa') =>
    outside('meterFlow', { orifice: `{ ${more} }` }, { meterPressureDifference: dp })
  const tube = (more: string, dp = '60 kPa') =>
    outside('meterFlow', { venturi: `{ ${more} }` }, { meterPressureDifference: dp })

  it('of an orifice plate are bore, pipe and their ratio', () => {
    expect(plate('bore: 12 mm, pipeBore: 60 mm')).toEqual(['outside ISO 5167-2: the bore is below 12.5 mm'])
    expect(plate('bore: 24 mm, pipeBore: 40 mm')).toEqual([
      'outside ISO 5167-2: the pipe is not 50 mm to 1 m wide',
    ])
    expect(plate('bore: 80 mm, pipeBore: 100 mm')).toEqual([
      'outside ISO 5167-2: the bore is not 0.10 to 0.75 of that of the pipe',
    ])
  })

  it('of an orifice plate are a Reynolds number of 16,000·β², with flange taps of 170·β²·D', () => {
    // by hand: 150/250 mm, Re_D = 4·Q/(π·D·ν); 5760 for corner and 15,300 for flange taps
    const wide = 'bore: 150 mm, pipeBore: 250 mm'
    const reynolds = (dp: string) =>
      (4 *
        figureOf(
          'meterFlow',
          { meterPressureDifference: dp },
          { orifice: `{ ${wide} }`, site: 'waterDensity: 998.2 kg/m3, waterTemperature: 20 Cel' },
        )) /
      (Math.PI * 0.25 * 1.0034e-6)
    expect(reynolds('101 Pa')).toBeGreaterThan(15_300)
    expect(plate(`${wide}, tappings: flange`, '101 Pa')).toEqual([])
    // 50/500 mm at 120 Pa: about 5500
    const narrow = 'bore: 60 mm, pipeBore: 600 mm'
    expect(plate(`${narrow}, tappings: corner`, '110 Pa')).toEqual([
      'outside ISO 5167-2: the Reynolds number of the pipe is below 5000 and 16,000·β²',
    ])
  })

  it('of a venturi tube are those of how its convergent was made', () => {
    expect(tube('throat: 50 mm, pipeBore: 100 mm, convergent: machined')).toEqual([])
    // references 7.7: at 30 kPa Re_D is 1.99e5
    expect(tube('throat: 50 mm, pipeBore: 100 mm, convergent: machined', '30 kPa')).toEqual([
      'outside ISO 5167-4: the Reynolds number of the pipe is not 200,000 to 1,000,000',
    ])
    expect(tube('throat: 0.15 m, pipeBore: 0.3 m, convergent: machined', '10 kPa')[0]).toBe(
      'outside ISO 5167-4: the pipe is not 0.05 to 0.25 m wide',
    )
    expect(tube('throat: 30 mm, pipeBore: 100 mm, convergent: machined', '600 kPa')).toContain(
      'outside ISO 5167-4: the throat is not 0.4 to 0.75 of the bore of the pipe',
    )
  })

  it('are told by the explanation, and reach what follows from the flow', () => {
    const bench = figureBench(
      { site: WATER_20, orifice: '{ bore: 12 mm, pipeBore: 60 mm }' },
      { meterPressureDifference: '25 kPa' },
    )
    expect(bench.view('discharge')).toMatchObject({ quality: 'uncertain' })
    expect(bench.view('discharge').reasons.join()).toMatch(/outside ISO 5167-2/)
    const said = explainFigure(bench.plan, bench.evaluator, 'meterFlow')
    expect(said?.formula?.limits).toContain('outside ISO 5167-2: the bore is below 12.5 mm')
  })
})
