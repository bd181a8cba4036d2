import { AxeBuilder } from '@axe-core/playwright'
import { afterEach, describe, expect, it } from 'vitest'
import { getJson, until } from '../support/publisher.ts'
import { fetchHere } from '../support/serverProcess.ts'
import { demoJourney } from './demoJourney.ts'

describe('a trial that records traces, as a class does it', () => {
  const demo = demoJourney()

  afterEach(() => demo.browser.closePages())

  it('is started from the list, waits armed, records the rejection of the load, and says what it was', async () => {
    // before the run: what falls while the rig settles is no rejection; and only a simulator that runs hears it
    await until(
      () => getJson<{ id: string; state: { state: string } }[]>(`${demo.server.url}/api/plants`),
      (plants) => plants.some(({ id, state }) => id === 'quennerby' && state.state === 'generating'),
      30_000,
    )
    for (const [control, value] of [
      ['jet-4', false],
      ['jet-3', false],
      ['jet-2', false],
      ['head', 16],
      ['speed-set', 1400],
    ])
      await fetchHere(`${demo.server.url}/api/plants/quennerby/simulator/${control}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ value }),
      })
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials`)
    const card = page.locator('[data-panel="trial-loadRejection"]')
    await card.locator('summary', { hasText: 'Start a run' }).click()
    await card.locator('input[name=name]').fill('Rejection')
    await card.locator('[data-action=start]').click()
    await page.waitForSelector('[data-trace-state=armed]', { timeout: 45_000 })
    await page.locator('[data-control=charger]').click()
    const trace = page.locator('[data-trace="1"]')
    await trace.waitFor({ timeout: 20_000 })
    await expect.poll(() => trace.textContent(), { timeout: 40_000 }).toMatch(/complete.*min⁻¹/s)
  }, 150_000)

  it('can be read on a phone without scrolling sideways, and by people who do not see', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials/1`, {
      width: 390,
      height: 844,
    })
    await page.waitForSelector('[data-panel="trace"]')
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
    const { violations } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => [id, nodes[0]?.html])).toEqual([])
    expect(demo.browser.errors).toEqual([])
  })
})
