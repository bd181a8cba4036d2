import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'

/** Every pair of colours that the style sheets put together. Text 4.5:1, lines and shapes 3:1 (WCAG 2.2, 1.4.3 and 1.4.11). */
const TEXT: [text: string, ground: string][] = [
  ['ink', 'ground'],
  ['ink', 'panel'],
  ['ink', 'well'],
  ['ink-muted', 'ground'],
  ['ink-muted', 'panel'],
  ['ink-muted', 'well'],
  ['accent', 'ground'],
  ['accent', 'panel'],
  ['alert', 'panel'],
  ['panel', 'ink'],
  ['on-high', 'high'],
  ['on-mark', 'medium'],
  ['on-mark', 'low'],
  ['on-notice', 'notice'],
  ['on-banner', 'banner'],
  ['on-bar', 'bar'],
  ['bar-muted', 'bar'],
  ['series-1', 'panel'],
  ['series-2', 'panel'],
  ['series-3', 'panel'],
  ['series-4', 'panel'],
]

const SHAPES: [shape: string, ground: string][] = [
  ['line', 'panel'],
  ['line', 'well'],
  ['band', 'panel'],
  ['high', 'panel'],
  ['accent', 'panel'],
  ['accent', 'ground'],
  ['on-bar', 'bar'],
]

const css = readFileSync(new URL('../../web/style/palette.css', import.meta.url), 'utf8')
const [light, dark] = readColours()
const palettes = { light, dark }

describe.each(['light', 'dark'] as const)('the %s palette', (name) => {
  const palette = palettes[name]

  it.each(TEXT)('makes text in %s readable on %s', (text, ground) => {
    expect(contrast(palette[text]!, palette[ground]!)).toBeGreaterThanOrEqual(4.5)
  })

  it.each(SHAPES)('makes shapes in %s visible on %s', (shape, ground) => {
    expect(contrast(palette[shape]!, palette[ground]!)).toBeGreaterThanOrEqual(3)
  })
})

describe('the rooms of the projector view', () => {
  it('have the palettes of the page, so that what is measured of these holds there', () => {
    expect(css).toMatch(/^:root,\n\[data-room\] \{\n( {2}--[\w-]+: .*;\n)+\}$/m)
    expect(css.match(/--[\w-]+:/g)).toHaveLength(Object.keys(light).length + 2)
    const schemes = [...css.matchAll(/^(\S+) \{\n {2}color-scheme: (.*);\n\}$/gm)].map(([, of, scheme]) => [
      of,
      scheme,
    ])
    expect(schemes).toEqual([
      [':root', 'light dark'],
      ['[data-room="light"]', 'light'],
      ['[data-room="dark"]', 'dark'],
    ])
  })
})

describe('the contrast measure of this test', () => {
  // Computed apart from the code from the definition of WCAG 2.2 (relative luminance, contrast ratio).
  it('agrees with two pairs computed by hand', () => {
    expect(contrast('#0072b2', '#e6e6e6')).toBeCloseTo(4.15, 2)
    expect(contrast('#e69f00', '#ffffff')).toBeCloseTo(2.25, 2)
  })
})

/** Both palettes: each colour is written once, for a light ground and for a dark one. */
function readColours(): [light: Record<string, string>, dark: Record<string, string>] {
  const pairs = [...css.matchAll(/--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/g)]
  return [
    Object.fromEntries(pairs.map(([, name, hex]) => [name!, hex!])),
    Object.fromEntries(pairs.map(([, name, , hex]) => [name!, hex!])),
  ]
}

/** WCAG 2.2 relative luminance and contrast ratio. */
function contrast(a: string, b: string): number {
  const [dark, bright] = [luminance(a), luminance(b)].sort((x, y) => x - y)
  return (bright! + 0.05) / (dark! + 0.05)
}

function luminance(hex: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!
}
