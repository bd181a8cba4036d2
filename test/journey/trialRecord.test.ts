import { AxeBuilder } from '@axe-core/playwright'
import { afterEach, beforeAll, describe, expect, it } from 'vitest'
import { fetchHere } from '../support/serverProcess.ts'
import { demoJourney } from './demoJourney.ts'

/** Width between the margins of A4 [CSS px]: 182 mm at 96 px to the inch. */
const A4_WIDTH = Math.floor((182 / 25.4) * 96)

describe('the record of a run on paper, and the list of runs', () => {
  const demo = demoJourney()

  const post = (path: string, body: object) => demo.ask(`/api/plants/quennerby/${path}`, body)

  beforeAll(async () => {
    await post('runs', { trial: 'nozzleLaw', name: 'First', className: 'Year 3', year: '2025' })
    await post('runs/1/finish', {})
    const names = { name: 'Second', className: 'Year 2', group: 'B', year: '2026' }
    await post('runs', { trial: 'efficiencyDischarge', ...names })
    for (const [discharge, efficiency] of [
      [0.9, 62.1],
      [1.35, 66],
      [1.8, 68.6],
      [2.25, 69.9],
      [2.7, 70.2],
      [3.6, 69.8],
    ] as const)
      await post('runs/2/points', {
        measuredBy: 'Ada',
        figures: [
          { figure: 'discharge', value: discharge, unit: 'L/s', u: 0.01 },
          { figure: 'turbineEfficiency', value: efficiency, unit: '%', u: 0.4 },
        ],
      })
    await post('runs/2/finish', {})
  })
  afterEach(() => demo.browser.closePages())

  it('prints from the page of the run: white, without buttons, nothing wider than A4', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials/2`)
    await page.locator('.print-record[data-ready]').waitFor({ state: 'attached' })
    await page.setViewportSize({ width: A4_WIDTH, height: 1000 })
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
    const seen = await page.evaluate(() => {
      const record = document.querySelector('.print-record')!.shadowRoot!.querySelector('.record')!
      const right = record.getBoundingClientRect().right
      const isShown = (element: Element) => element.getClientRects().length > 0
      return {
        ground: getComputedStyle(document.body).backgroundColor,
        buttons: [...document.querySelectorAll('button, nav, footer')].filter(isShown).length,
        tooWide: [...record.querySelectorAll('*')].filter(
          (one) => isShown(one) && one.getBoundingClientRect().right > right + 0.5,
        ).length,
        plots: [...record.querySelectorAll('svg')].filter(isShown).length,
        text: record.textContent ?? '',
      }
    })
    expect(seen).toMatchObject({ ground: 'rgb(255, 255, 255)', buttons: 0, tooWide: 0 })
    expect(seen.plots).toBeGreaterThanOrEqual(2)
    for (const part of ['Second', 'Aim and method', 'Points', 'Result', 'Worked point', 'Date, signature'])
      expect(seen.text).toContain(part)
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
    // pages of 210 mm by 297 mm are 595 by 842 points
    expect(pdf).toMatch(/\/MediaBox ?\[0 0 59[45][.\d]* 84[12][.\d]*\]/)
    expect(pdf.match(/\/Type ?\/Page\b/g)!.length).toBeGreaterThanOrEqual(2)
  })

  it('is served as a page that may load nothing', async () => {
    const record = await fetchHere(`${demo.server.url}/api/plants/quennerby/runs/2/record`)
    expect(record.headers.get('content-type')).toMatch(/^text\/html/)
    expect(record.headers.get('content-security-policy')).toMatch(
      /^default-src 'none'; style-src 'sha256-[^']+'; base-uri 'none'/,
    )
    expect((await fetchHere(`${demo.server.url}/api/plants/quennerby/runs/99/record`)).status).toBe(404)
  })

  it('is found by class and year, also on a phone', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials`, {
      width: 390,
      height: 844,
    })
    await page.waitForSelector('[data-run="2"]')
    expect(await page.locator('.run-group').allTextContents()).toEqual(['2026, Year 2', '2025, Year 3'])
    await page.locator('#runs-year').focus()
    await page.locator('#runs-year').selectOption('2025')
    await page.waitForSelector('[data-run="2"]', { state: 'detached' })
    await page.waitForSelector('[data-run="1"]')
    expect(await page.locator('[data-run]').count()).toBe(1)
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('runs-year')
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
    const { violations } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => [id, nodes[0]?.html])).toEqual([])
    expect(demo.browser.errors).toEqual([])
  })

  it('shows the line of the plant file beside the curve, as measured and in unit quantities', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials/2`)
    await page.waitForSelector('[data-theory="turbine.efficiencyCurve"]')
    await page.locator('button', { hasText: 'Unit quantities' }).click()
    await page.waitForSelector('[data-theory="turbine.efficiencyCurve"]')
    const reply = await (await fetchHere(`${demo.server.url}/api/plants/quennerby/runs/2`)).json()
    expect(reply.theory.lines).toHaveLength(1)
    expect(reply.theory.lines[0].y.at(-1)).toBeCloseTo(0.7, 9)
    // Q11 = Q/(D²·√H) of the rated 3.605 L/s at 24 m with D = 123 mm
    expect(reply.unitTheory.lines[0].x.at(-1)).toBeCloseTo(0.003605 / (0.123 ** 2 * Math.sqrt(24)), 9)
  })

  it('keeps what a person may not do from being pressed, and says why', async () => {
    const page = await demo.browser.open(`${demo.server.url}/#/plant/quennerby/trials/2`)
    await page.waitForSelector('[data-action=reject]')
    const session = await (await fetchHere(`${demo.server.url}/api/session`)).json()
    await page.route('**/api/session', (route) =>
      route.fulfill({ json: { ...session, name: 'Ada', role: 'viewer', actions: ['read'] } }),
    )
    await page.reload()
    await page.waitForSelector('[data-right=trial]')
    expect(await page.locator('[data-right=trial]').textContent()).toBe(
      'Your role, viewer, may not run a trial.',
    )
    expect(await page.locator('[data-action=reject]').count()).toBe(0)
    expect(await page.locator('#notes-text').isDisabled()).toBe(true)
    await page.goto(`${demo.server.url}/#/plant/quennerby/trials`)
    await page.waitForSelector('[data-panel="trial-efficiencyDischarge"]')
    expect(await page.locator('[data-action=start]').count()).toBe(0)
  })
})
