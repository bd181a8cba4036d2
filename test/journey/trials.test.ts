import { AxeBuilder } from '@axe-core/playwright'
import { afterEach, describe, expect, it } from 'vitest'
import type { PointRunReply } from '../../server/wire/trial.ts'
import { fetchHere } from '../support/serverProcess.ts'
import { demoJourney } from './demoJourney.ts'

describe('a trial, as a class does it', () => {
  const demo = demoJourney()

  afterEach(() => demo.browser.closePages())

  it('is started from the list, stores a point by itself, and takes a decision about it', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials`)
    const card = page.locator('[data-panel="trial-efficiencyDischarge"]')
    await card.locator('summary', { hasText: 'Start a run' }).click()
    await card.locator('input[name=name]').fill('Journey')
    await card.locator('[data-action=start]').click()
    await page.waitForSelector('[data-panel="guidance"]')
    await page.waitForSelector('[data-held="netHead"][data-held-state="held"]')

    const row = page.locator('[data-point="1"]')
    await row.waitFor({ timeout: 50_000 })
    expect(await row.textContent()).toMatch(/jets 1, 2, 3, 4/)
    await row.locator('[data-action=reject]').click()
    await row.locator('input[name=reason]').fill('only to try')
    await row.locator('button[type=submit]').click()
    await page.waitForSelector('[data-point="1"][data-verdict="rejected"]')
    expect(await row.textContent()).toMatch(/Rejected: only to try/)
  })

  it('can be read on a phone without scrolling sideways, and by people who do not see', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials/1`, {
      width: 390,
      height: 844,
    })
    await page.waitForSelector('[data-point="1"]')
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
    const { violations } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => [id, nodes[0]?.html])).toEqual([])
  })

  it('shows the remark that a point was kept with in the table of points', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials/1`)
    const remark = 'Net head: estimated'
    await page.route('**/api/plants/quennerby/runs/1', async (route) => {
      const response = await route.fetch()
      const reply = (await response.json()) as PointRunReply
      const points = reply.points.map((point) => ({ ...point, remarks: [remark] }))
      await route.fulfill({ response, json: { ...reply, points } })
    })
    await page.locator('[data-point="1"] [data-remark]').first().waitFor()
    expect(await page.locator('[data-point="1"] [data-remark]').textContent()).toBe(remark)
  })

  it('is finished, and its record can be downloaded', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials/1`)
    await page.locator('[data-action=finish]').click()
    await page.locator('[data-action=finish-really]').click()
    await page.waitForSelector('[data-panel="guidance"]', { state: 'detached' })
    const pack = await fetchHere(`${demo.server.url}/api/plants/quennerby/runs/1/pack`)
    expect(pack.headers.get('content-type')).toBe('application/zip')
    expect(new Uint8Array(await pack.arrayBuffer()).slice(0, 2)).toEqual(Uint8Array.from([0x50, 0x4b]))
    expect(demo.browser.errors).toEqual([])
  })
})
