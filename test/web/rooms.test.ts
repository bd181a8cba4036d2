import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'

const css = readFileSync(new URL('../../web/style/palette.css', import.meta.url), 'utf8')

function colours(block: string): Record<string, string> {
  return Object.fromEntries(
    [...block.matchAll(/--([\w-]+): (#\w+);/g)].map(([, name, value]) => [name!, value!]),
  )
}

describe('the rooms of the projector view', () => {
  const [own, rooms] = css.split('/* A room is light')
  const [light, dark] = own!.split('@media (prefers-color-scheme: dark)')
  const [lightRoom, darkRoom] = rooms!.split('[data-room="dark"]')

  it('are the two palettes of the page, so that what is measured of these holds there', () => {
    const { 'qr-light': _l, 'qr-dark': _d, ...page } = colours(light!)
    expect(colours(lightRoom!)).toEqual(page)
    expect(colours(darkRoom!)).toEqual(colours(dark!))
    expect(Object.keys(colours(darkRoom!)).length).toBeGreaterThan(20)
  })
})
