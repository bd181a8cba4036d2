import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type JourneyBrowser, openBrowser } from './browser.ts'

describe('over-speed, wherever one looks', () => {
  const scratch = scratchFolder()
  let server: ServerProcess
  let browser: JourneyBrowser

  beforeAll(async () => {
    server = await startServer(['--demo', '--data', scratch.path, '--http-port', '0', '--mqtt-port', '0'])
    browser = await openBrowser()
  })
  afterAll(async () => {
    await browser.close()
    await server.stop()
    scratch.remove()
  })
  afterEach(() => browser.closePages())

  const reject = () =>
    fetchHere(`${server.url}/api/plants/skelderwath/simulator/scenario`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ value: 'loadRejection' }),
    })

  it('is heard after one tap of consent, until somebody silences it', async () => {
    const page = await browser.open(`${server.url}/#/plant/quennerby`)
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
    const page = await browser.open(`${server.url}/${address}`, { width })
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
    const page = await browser.open(`${server.url}/#/plant/skelderwath/trials`)
    const press = page.locator('[data-action=acknowledge-danger]')
    await press.click({ timeout: 40_000 })
    await press.waitFor({ state: 'detached', timeout: 20_000 })
    expect(await page.locator('[data-danger]').count()).toBe(1)
  })

  it('puts the plant first in the list', async () => {
    const page = await browser.open(server.url)
    await page.waitForSelector('[data-plant]')
    expect(await page.locator('[data-plant]').first().getAttribute('data-plant')).toBe('skelderwath')
  })
})
