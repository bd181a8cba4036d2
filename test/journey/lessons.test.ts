import { readFileSync } from 'node:fs'
import { AxeBuilder } from '@axe-core/playwright'
import { strFromU8, unzipSync } from 'fflate'
import type { Page } from 'playwright-core'
import { describe, expect, it } from 'vitest'
import { demoJourney } from './demoJourney.ts'

const PHONE = { width: 390, height: 844 }

describe('a lesson with an instructor and two phones', () => {
  const demo = demoJourney()
  let desk: Page
  let blue: Page
  let red: Page
  let projector: Page

  async function axe(page: Page): Promise<unknown[]> {
    const { violations } = await new AxeBuilder({ page }).analyze()
    return violations.map(({ id, nodes }) => [id, nodes[0]?.html])
  }

  async function join(code: string, group: string): Promise<Page> {
    const phone = await demo.browser.open(`${demo.server.url}/#/lesson/${code}`, PHONE)
    await phone.fill('#join-group', group)
    await phone.click('[data-action=join]')
    await phone.waitForSelector('[data-screen=phone] [data-action=record]')
    await phone.waitForSelector('[data-screen=phone] .setting-banner')
    return phone
  }

  it('is opened, tells how phones can reach it, and is joined with its code', async () => {
    desk = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/lessons`)
    await desk.fill('#lesson-title', 'Pelton wheel')
    await desk.click('[data-action=open-lesson]')
    const code = (await desk.waitForSelector('[data-code]')).getAttribute('data-code')
    // this server listens on a loopback address
    expect(await desk.textContent('[data-panel=join-code]')).toMatch(/listens only on this machine/)
    blue = await join((await code)!, 'Blue')
    red = await join((await code)!.toUpperCase(), 'Red')
    await desk.waitForSelector('[data-group="2"]')
    expect(await desk.textContent('[data-panel=groups]')).toMatch(
      /Blue \([^)]+\) 1 phone.*Red \([^)]+\) 1 phone/,
    )
    // a phone shows nothing but the lesson, whatever its address says
    await red.goto(`${demo.server.url}/#/plant/quennerby`)
    await red.waitForSelector('[data-screen=phone]')
    expect(await red.locator('[data-panel=alarms]').count()).toBe(0)
  })

  it('marks a record with one press, and once more after the network was gone', async () => {
    await blue.waitForSelector('[data-figure=speed]')
    await blue.click('[data-action=record]')
    await blue.waitForSelector('[data-record="1"]')
    await blue.context().setOffline(true)
    await blue.click('[data-action=record]')
    await blue.waitForSelector('[data-waiting=unsent]')
    expect(await blue.textContent('[data-waiting=unsent]')).toMatch(/Not sent yet/)
    await blue.context().setOffline(false)
    await blue.waitForSelector('[data-record="2"]', { timeout: 20_000 })
    await blue.waitForSelector('[data-waiting]', { state: 'detached' })
    expect(await blue.locator('[data-record]').count()).toBe(2)
    demo.browser.errors.length = 0
  })

  it('shows few numbers of at least 5 % of the height on a screen that is not scrolled', async () => {
    const address = desk.url().replace(/#.*/, '#/plant/quennerby/lessons/1/projector')
    projector = await demo.browser.open(address, { width: 1920, height: 1080 })
    await projector.waitForSelector('.giant')
    for (const [width, height] of [
      [1920, 1080],
      [1280, 720],
    ] as const) {
      await projector.setViewportSize({ width, height })
      const seen = await projector.evaluate(() => ({
        wide: document.documentElement.scrollWidth,
        high: document.documentElement.scrollHeight,
        size: Number.parseFloat(getComputedStyle(document.querySelector('.giant-number')!).fontSize),
        lowest: Math.max(
          ...[...document.querySelectorAll('.projector > *')].map(
            (one) => one.getBoundingClientRect().bottom,
          ),
        ),
      }))
      expect(seen.wide).toBeLessThanOrEqual(width)
      expect(seen.high).toBeLessThanOrEqual(height)
      expect(seen.lowest).toBeLessThanOrEqual(height)
      // a digit is about 0.7 of the size of its letters (common practice, no source)
      expect(0.7 * seen.size).toBeGreaterThanOrEqual(0.05 * height)
    }
    expect(await axe(projector)).toEqual([])
    await projector.click('[data-action=room]')
    expect(await axe(projector)).toEqual([])
  })

  it('predicts a hidden figure, which no phone shows before the reveal', async () => {
    await desk.selectOption('#question-figure', 'turbineEfficiency')
    await desk.fill('#question-text', 'What will the efficiency be with jet 3 shut?')
    await desk.click('[data-action=ask]')
    for (const [phone, value] of [
      [blue, '69'],
      [red, '55,5'],
    ] as const) {
      await phone.waitForSelector('#predict-value')
      await phone.waitForSelector('[data-hidden=turbineEfficiency]')
      await phone.fill('#predict-value', value)
      await phone.click('[data-action=predict]')
      await phone.waitForSelector('[data-own-prediction]')
    }
    await projector.waitForSelector('[data-giant=turbineEfficiency] [data-hidden]')
    await desk.waitForFunction(() => /2 of 2 groups predicted/.test(document.body.textContent ?? ''))
    expect(await axe(blue)).toEqual([])
    await desk.click('[data-action=close]')
    await desk.waitForSelector('[data-question-state=closed]')
    await desk.click('[data-action=reveal]')
    for (const page of [blue, red, projector, desk]) await page.waitForSelector('[data-reveal="1"]')
    expect(await red.textContent('[data-reveal]')).toMatch(/Turbine efficiency.*%.*2 predictions: mean 62/)
    await red.waitForSelector('[data-figure=turbineEfficiency]')
  })

  it('is frozen for everybody with a stamp, and goes on', async () => {
    await desk.click('[data-action=freeze]')
    for (const page of [blue, red, projector]) await page.waitForSelector('[data-stamp=frozen]')
    const speed = () => blue.locator('[data-figure=speed]').first().getAttribute('data-wire')
    const kept = await speed()
    await red.click('[data-action=record]')
    await red.waitForSelector('[data-record="3"]')
    expect(await red.textContent('[data-record="3"]')).toMatch(/frozen/)
    expect(await speed()).toBe(kept)
    await desk.click('[data-action=freeze]')
    await blue.waitForSelector('[data-stamp]', { state: 'detached' })
  })

  it('can be read on a phone and at the desk without scrolling sideways, and by people who do not see', async () => {
    for (const page of [blue, desk]) {
      const [scroll, width] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth])
      expect(scroll).toBeLessThanOrEqual(width!)
      expect(await axe(page)).toEqual([])
    }
    const size = await blue.locator('[data-action=record]').boundingBox()
    expect(size!.height).toBeGreaterThanOrEqual(44)
  })

  it('gives each group its pack, and ends', async () => {
    const [download] = await Promise.all([blue.waitForEvent('download'), blue.click('[data-action=pack]')])
    const files = unzipSync(readFileSync(await download.path()))
    const rows = strFromU8(files['records.csv']!).trim().split('\r\n')
    expect(rows).toHaveLength(3)
    expect(rows[1]).toMatch(/^1,.*,live,/)
    const [line] = strFromU8(files['predictions.csv']!).trim().split('\r\n').slice(1)
    expect(line).toMatch(/^1,What will the efficiency be with jet 3 shut\?,turbineEfficiency,Blue,0\.69/)
    await desk.click('[data-action=end]')
    await desk.click('[data-action=end-really]')
    await blue.waitForSelector('[data-ended]', { timeout: 20_000 })
    await blue.waitForSelector('[data-record="2"]')
    expect(await blue.locator('[data-action=record]').count()).toBe(0)
    expect(demo.browser.errors).toEqual([])
  })
})
