import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import type { Snapshot } from '../../server/wire/plant.ts'
import { getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type JourneyBrowser, openBrowser, whenLive } from './browser.ts'

describe('the demo, as a new user sees it', () => {
  const scratch = scratchFolder()
  let server: ServerProcess
  let browser: JourneyBrowser

  beforeAll(async () => {
    server = await startServer(['--demo', '--data', scratch.path, '--http-port', '0', '--mqtt-port', '0'])
    browser = await openBrowser()
    await until(
      () => getJson<{ state: { state: string } }[]>(`${server.url}/api/plants`),
      (plants) => plants.every((plant) => plant.state.state === 'generating'),
      20_000,
    )
  })

  afterAll(async () => {
    await browser.close()
    await server.stop()
    scratch.remove()
  })
  afterEach(() => browser.closePages())

  const live = (plant: string) => getJson<Snapshot>(`${server.url}/api/plants/${plant}/live`)
  const figure = ({ plant, values }: Snapshot, id: string) =>
    values[plant.figures.findIndex((one) => one.id === id)]!

  it('lists three running plants, each stamped SIM', async () => {
    const page = await browser.open(server.url)
    for (const plant of ['quennerby', 'ostrelby', 'skelderwath']) {
      const card = page.locator(`[data-plant="${plant}"]`)
      await card.waitFor()
      expect(await card.textContent()).toMatch(/SIM/)
      expect(await card.textContent()).toMatch(/Generating/)
    }
  })

  it('closes a jet from the page and shows less water and power', async () => {
    const page = await browser.open(`${server.url}/#/plant/quennerby`)
    await whenLive(page)
    const before = figure(await live('quennerby'), 'discharge').value!
    await page.locator('[data-control="jet-4"]').click()
    await until(
      () => live('quennerby'),
      (snapshot) => figure(snapshot, 'jetOpen.4').value === 0,
    )
    await until(
      () => live('quennerby'),
      (snapshot) => figure(snapshot, 'discharge').value! < 0.8 * before,
      15_000,
    )
    await page.locator('[data-control="jet-4"]').click()
  })

  it('raises over-speed on a load rejection, and acknowledges all of it from a phone with one press', async () => {
    const page = await browser.open(`${server.url}/#/plant/skelderwath`, { width: 390, height: 844 })
    await whenLive(page)
    await fetchHere(`${server.url}/api/plants/skelderwath/simulator/scenario`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ value: 'loadRejection' }),
    })
    const press = page.locator('[data-episode] [data-action="acknowledgeAll"]').first()
    await press.waitFor({ timeout: 40_000 })
    await page.locator('[data-alarm="over-speed-120"]').first().waitFor({ state: 'attached' })
    const box = (await press.boundingBox())!
    expect(box.height).toBeGreaterThanOrEqual(44)
    await press.click()
    await until(
      () => live('skelderwath'),
      (snapshot) =>
        !/[uU]nacknowledged/.test(snapshot.alarms.find((one) => one.id === 'over-speed-110')!.state),
    )
  })

  it('explains a figure down to its instruments', async () => {
    const page = await browser.open(`${server.url}/#/plant/quennerby`)
    await whenLive(page)
    await page.locator('[data-open="hydraulicPower"]').first().click()
    const sheet = page.locator('.sheet')
    await sheet.locator('text=Discharge').first().waitFor({ timeout: 5000 })
    const text = (await sheet.textContent())!
    expect(text).toContain('ρ')
    expect(text).toMatch(/998\.2 · 9\.81 · 0\.003/)
    expect(text).toMatch(/IEC 60041/)
    // the numbers are of one moment: what they give is what is shown
    const lines = await sheet.locator('.formula').allTextContents()
    const product = lines.find((line) => /^= \d/.test(line))!.match(/\d[\d.]*/g)!
    const shown = Number((await sheet.locator('[data-result] .value').getAttribute('data-wire'))!)
    expect(product.map(Number).reduce((all, one) => all * one, 1) / shown).toBeCloseTo(1, 3)
    await page.goBack()
    await sheet.waitFor({ state: 'hidden' })
    expect(page.url()).toMatch(/quennerby$/)
    expect(await page.locator('[data-panel=key]').count()).toBe(1)
  })

  it('closes the sheet by its button without a step on the way back', async () => {
    const page = await browser.open(`${server.url}/#/health`)
    await page.goto(`${server.url}/#/plant/quennerby`)
    await page.locator('[data-open="hydraulicPower"]').first().click()
    await page.locator('.sheet [data-action=close]').click()
    await page.locator('.sheet').waitFor({ state: 'hidden' })
    await page.goBack()
    await page.waitForSelector('[data-screen=health]')
  })

  it.each([
    ['the list of plants', '#/', 1440, false],
    ['a plant', '#/plant/quennerby', 1440, false],
    ['a plant in the dark', '#/plant/ostrelby', 1440, true],
    ['a plant on a phone', '#/plant/skelderwath', 390, false],
    ['health', '#/health', 1440, false],
  ])(
    'has no accessibility fault that axe can find on %s',
    async (_name, address, width, dark) => {
      const page = await browser.open(`${server.url}/${address}`, { width, dark })
      if (address.includes('plant/')) await whenLive(page)
      await page.waitForSelector('h1')
      await page.waitForTimeout(500)
      const { violations } = await new AxeBuilder({ page }).analyze()
      expect(violations.map((one) => `${one.id}: ${one.nodes[0]?.html}`)).toEqual([])
      // axe looks at every element of the longest page
    },
    150_000,
  )

  it.each([320, 390, 1440, 1920])('never scrolls sideways at %d px', async (width) => {
    const page = await browser.open(`${server.url}/#/plant/quennerby`, { width })
    await whenLive(page)
    expect(await widthOf(page)).toBeLessThanOrEqual(width)
  })

  it('writes no error to the console on any screen', () => {
    expect(browser.errors).toEqual([])
  })
})

describe('the page when its server dies', () => {
  const scratch = scratchFolder()
  afterAll(() => scratch.remove())

  it('says so within 2 s, greys the figures, and comes back by itself', async () => {
    const args = ['--demo', '--data', scratch.path, '--mqtt-port', '0', '--http-port']
    const first = await startServer([...args, '0'])
    const browser = await openBrowser()
    try {
      const page = await browser.open(`${first.url}/#/plant/quennerby`)
      await whenLive(page)
      await page.waitForSelector('[data-figure="activePower"]:not([data-wire=""])', { timeout: 15_000 })
      await first.stop('SIGKILL')
      await page.waitForSelector('[data-banner]', { timeout: 2000 })
      await page.waitForSelector('[data-withheld="true"]', { timeout: 2000 })
      expect(await page.getAttribute('html', 'data-live')).not.toBe('true')
      const again = await startServer([...args, new URL(first.url).port])
      await whenLive(page)
      await page.waitForSelector('[data-withheld="false"]', { timeout: 15_000 })
      await again.stop()
    } finally {
      await browser.close()
    }
  })
})

function widthOf(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth)
}
