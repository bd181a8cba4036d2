import { afterEach, describe, expect, it } from 'vitest'
import { demoJourney } from './demoJourney.ts'

describe('over-speed, wherever one looks', () => {
  const demo = demoJourney()

  afterEach(() => demo.browser.closePages())

  const reject = () => demo.ask('/api/plants/skelderwath/simulator/scenario', { value: 'loadRejection' })

  it('is heard after one tap of consent, until somebody silences it', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby`)
    await page.evaluate(() => {
      const start = OscillatorNode.prototype.start
      const heard = window as unknown as { notes: number }
      heard.notes = 0
      OscillatorNode.prototype.start = function (...at) {
        heard.notes++
        return start.apply(this, at)
      }
    })
    const notes = () => page.evaluate(() => (window as unknown as { notes: number }).notes)
    await page.click('[data-action=sound]')
    await page.waitForSelector('[data-action=sound][aria-pressed=true]')
    await reject()
    await page.waitForSelector('[data-action=silence]', { timeout: 60_000 })
    await expect.poll(notes, { timeout: 10_000 }).toBeGreaterThan(0)
    await page.click('[data-action=silence]')
    const before = await notes()
    await page.waitForTimeout(4000)
    expect(await notes()).toBe(before)
    await page.reload()
    await page.waitForSelector('[data-action=sound][aria-pressed=true]')
  })

  it.each([
    ['another plant, scrolled down', '#/plant/quennerby', 1440],
    ['the health of the server', '#/health', 390],
    ['its own plant on a phone, scrolled down', '#/plant/skelderwath', 390],
    ['the trials', '#/plant/skelderwath/trials', 1920],
  ])('is in sight on %s', async (_name, address, width) => {
    const page = await demo.browser.open(`${demo.server.url}/${address}`, { width })
    await page.waitForSelector('h1')
    await page.evaluate(() => window.scrollTo(0, 1500))
    await reject()
    const strip = page.locator('[data-danger]').first()
    await strip.waitFor({ timeout: 40_000 })
    const text = (await strip.textContent())!
    expect(text).toMatch(/Over-speed \d+ % of rated speed|Tripped/)
    expect(text).toMatch(/Skelderwath/)
    const box = (await strip.boundingBox())!
    expect(box.y).toBeGreaterThanOrEqual(0)
    expect(box.y + box.height).toBeLessThan(300)
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width)
  })

  it('is acknowledged with one press, and stays while the protection has tripped', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/skelderwath/trials`)
    const press = page.locator('[data-action=acknowledge-danger]')
    await press.click({ timeout: 40_000 })
    await press.waitFor({ state: 'detached', timeout: 20_000 })
    expect(await page.locator('[data-danger]').count()).toBe(1)
  })

  it('puts the plant first in the list', async () => {
    const page = await demo.browser.open(demo.server.url)
    await page.waitForSelector('[data-plant]')
    expect(await page.locator('[data-plant]').first().getAttribute('data-plant')).toBe('skelderwath')
  })
})
