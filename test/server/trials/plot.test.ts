import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { Resvg } from '@resvg/resvg-wasm'
import { beforeAll, describe, expect, it } from 'vitest'
import { drawPng } from '../../../server/trials/plot/drawPng.ts'
import { placeLabel } from '../../../server/trials/plot/placeLabel.ts'
import { COLOURS, type Plot } from '../../../server/trials/plot/plot.ts'
import { frameOf } from '../../../server/trials/plot/plotFrame.ts'
import { plotSvg } from '../../../server/trials/plot/plotSvg.ts'
import { escapeMarkup, textWidth, wrapText } from '../../../server/trials/plot/plotText.ts'
import type { DrawnBest } from '../../../server/wire/drawn.ts'

const plot = (changes: Partial<Plot> = {}): Plot => ({
  title: 'Run',
  subtitle: 'Trial · Plant',
  x: 'Discharge [L/s]',
  y: 'Efficiency [%]',
  theory: null,
  best: null,
  hasZeroLine: false,
  series: [
    {
      label: 'measured',
      points: [0.9, 1.8, 2.7, 3.6].map((x, i) => ({ x, y: 62 + 2 * i, ux: 0.02, uy: 1, isKept: i !== 1 })),
      curve: null,
    },
  ],
  ...changes,
})

/** WCAG 2.2, relative luminance and contrast ratio. */
function contrastOnWhite(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4
  }) as [number, number, number]
  return 1.05 / (0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05)
}

describe('the palette of the plots', () => {
  it('is right in the measure: blue 0072B2 has 5.19 on white (WCAG 2.2, computed apart from the code)', () => {
    expect(contrastOnWhite('#0072b2')).toBeCloseTo(5.19, 2)
  })

  it.each([...COLOURS.series, COLOURS.best, COLOURS.theory, COLOURS.ink, COLOURS.muted])(
    'has %s readable on white, 4.5 to 1 at least',
    (colour) => expect(contrastOnWhite(colour)).toBeGreaterThanOrEqual(4.5),
  )
})

describe('a plot', () => {
  it('is the same text for the same points, with names and round ticks on both axes', () => {
    const svg = plotSvg(plot())
    expect(plotSvg(plot())).toBe(svg)
    expect(svg).toContain('>Discharge [L/s]</text>')
    expect(svg).toContain('>Efficiency [%]</text>')
    for (const tick of ['0.0', '0.5', '4.0', '62', '68']) expect(svg).toContain(`>${tick}</text>`)
  })

  it('draws a rejected point as a cross and says so', () => {
    expect(plotSvg(plot())).toContain('>rejected</text>')
  })

  it('tells series apart by shape as well as by colour', () => {
    const [one] = plot().series
    const svg = plotSvg(plot({ series: [one!, { ...one!, label: 'other' }] }))
    expect(svg.match(/<circle/g)).toHaveLength(4)
    // the ground, the frame, three points and the entry of the legend
    expect(svg.match(/<rect/g)).toHaveLength(6)
  })

  it('puts the words of the best point beside points and bars, within the frame', () => {
    const best: DrawnBest = {
      x: 2.7,
      y: 66,
      parts: [[2.5, 2.9]],
      yLow: 65,
      yHigh: 67,
      label: 'best: 66 ± 1 % at 2.7 ± 0.2 L/s',
    }
    const drawn = plot({ best })
    const frame = frameOf(drawn, 100)
    const [x, baseline] = placeLabel(drawn, best, frame)
    const wide = textWidth(best.label, 13, true)
    expect(x).toBeGreaterThanOrEqual(frame.left)
    expect(x + wide).toBeLessThanOrEqual(frame.right)
    for (const point of drawn.series[0]!.points) {
      const [px, py] = frame.place(point.x, point.y)
      const isUnder = px > x && px < x + wide && py > baseline - 13 && py < baseline + 4
      expect(isUnder).toBe(false)
    }
  })

  it('is drawn without any point, too', () => {
    expect(plotSvg(plot({ series: [] }))).not.toMatch(/NaN|Infinity/)
  })
})

describe('texts of a plot', () => {
  let font: Uint8Array
  beforeAll(async () => {
    await drawPng('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')
    font = readFileSync(
      createRequire(import.meta.url).resolve(
        '@expo-google-fonts/open-sans/400Regular/OpenSans_400Regular.ttf',
      ),
    )
  })

  // what the drawing program measures in the font itself
  it.each([
    'measured, bars 95 %',
    'Turbine: efficiency over discharge',
    'WWW MMM %%% @@@',
    '0.000075',
    'illiterate',
    'Größe',
  ])('"%s" take no more room than was reckoned with', (text) => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="900" height="60" font-family="'Open Sans'"><text x="5" y="40" font-size="20">${text}</text></svg>`
    const picture = new Resvg(svg, { font: { fontBuffers: [font], defaultFontFamily: 'Open Sans' } })
    const wide = picture.getBBox()!.width
    expect(wide).toBeGreaterThan(20)
    expect(wide).toBeLessThanOrEqual(textWidth(text, 20))
  })

  it('are escaped, and lose what XML does not allow', () => {
    expect(escapeMarkup(`<b a="1">'&'\u0000\ud800`)).toBe('&lt;b a=&quot;1&quot;&gt;&#39;&amp;&#39;  ')
  })

  it('are broken into lines that fit; what is too long ends with "…"', () => {
    const lines = wrapText('one two three four five six seven eight nine ten', 13, { width: 100, most: 2 })
    expect(lines).toHaveLength(2)
    expect(lines[1]).toMatch(/…$/)
    for (const line of lines) expect(textWidth(line, 13)).toBeLessThanOrEqual(100)
    expect(wrapText('x'.repeat(90), 13, { width: 100, most: 1 })[0]).toMatch(/^x+…$/)
  })
})
