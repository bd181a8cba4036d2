import { AxeBuilder } from '@axe-core/playwright'
import { afterEach, beforeAll, describe, expect, it } from 'vitest'
import type { ReplaySummary } from '../../server/wire/replay.ts'
import { fetchHere } from '../support/serverProcess.ts'
import { demoJourney } from './demoJourney.ts'

describe('a replay, as an instructor shows it', () => {
  const demo = demoJourney()
  let from: number

  beforeAll(async () => {
    from = Date.now()
  })

  const summary = () => demo.ask<ReplaySummary>('/api/replays/1')
  const journal = () => demo.ask<{ entries: unknown[] }>('/api/plants/quennerby/journal?limit=500')
  afterEach(() => demo.browser.closePages())

  it('shows what was recorded, stamped on every screen, and to two browsers at the same moment', async () => {
    await expect.poll(() => Date.now() - from, { timeout: 30_000, interval: 500 }).toBeGreaterThan(20_000)
    const { replay } = await demo.ask<{ replay: number }>('/api/plants/quennerby/replays', {
      from,
      to: Date.now() - 2000,
    })
    const desk = await demo.browser.open(`${demo.server.url}/#/replay/${replay}`)
    const phone = await demo.browser.open(`${demo.server.url}/#/replay/${replay}`, {
      width: 390,
      height: 844,
    })
    await desk.locator('[data-action=replay-run]').click()
    for (const page of [desk, phone]) {
      await page.waitForSelector('.replay-stamp[data-paused=false]')
      expect(await page.locator('.lamp-word').textContent()).toBe('Replay')
      expect(await page.getAttribute('html', 'data-live')).toBe('false')
      expect(await page.title()).toMatch(/^Replay/)
    }
    const moment = (page: typeof desk) => page.locator('.replay-stamp time').textContent()
    await expect.poll(async () => (await summary()).at - from, { timeout: 15_000 }).toBeGreaterThan(4000)
    await desk.locator('[data-action=replay-run]').click()
    await phone.waitForSelector('.replay-stamp[data-paused=true]')
    expect(await moment(phone)).toBe(await moment(desk))
    expect(await phone.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
  })

  it('hides a figure and what follows from it in every browser until it is revealed', async () => {
    const desk = await demo.browser.open(`${demo.server.url}/#/replay/1`)
    const phone = await demo.browser.open(`${demo.server.url}/#/replay/1`, { width: 390, height: 844 })
    const shaft = (page: typeof desk) => page.locator('[data-panel=key] [data-figure=shaftPower]')
    await expect.poll(() => shaft(phone).getAttribute('data-wire')).toMatch(/\d/)
    await desk.locator('summary', { hasText: 'Hide figures' }).click()
    await desk.locator('[data-hide=shaftPower]').check()
    await expect.poll(() => shaft(phone).getAttribute('data-wire')).toBe('')
    const efficiency = phone.locator('[data-panel=key] [data-figure=turbineEfficiency]')
    await expect.poll(() => efficiency.getAttribute('data-wire')).toBe('')
    const asked = await fetchHere(`${demo.server.url}/api/replays/1/figures/shaftPower/explain`)
    expect(asked.status).toBe(409)
    expect((await fetchHere(`${demo.server.url}/api/replays/1/history?figures=shaftPower`)).status).toBe(409)
    await desk.locator('[data-action=reveal]').click()
    await expect.poll(() => shaft(phone).getAttribute('data-wire')).toMatch(/\d/)
  })

  it('never shows the future in its trends', async () => {
    const { at } = await summary()
    const reply = await demo.ask<{ to: number }>(
      `/api/replays/1/history?figures=netHead&from=${from}&to=${at + 3_600_000}`,
    )
    expect(reply.to).toBeLessThanOrEqual(at + 1)
  })

  it('can be read by people who do not see', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/replay/1`)
    await page.waitForSelector('[data-panel=key]')
    const { violations } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => [id, nodes[0]?.html])).toEqual([])
  })

  it('says so when it is over, and has left no trace in the journal', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/replay/1`)
    const before = await journal()
    await demo.ask('/api/replays/1', { isPaused: false, speed: 16, at: from })
    await page.locator('[data-action=replay-end]').click()
    await page.waitForSelector('[data-screen=plant]')
    const gone = await demo.browser.open(`${demo.server.url}/#/replay/1`)
    await gone.waitForSelector('h1:has-text("This replay is over")')
    expect((await journal()).entries).toEqual(before.entries)
    expect(demo.browser.errors.filter((text) => !/40[49]/.test(text))).toEqual([])
  })
})
