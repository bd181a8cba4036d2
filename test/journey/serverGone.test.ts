import type { Page } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { type ScreenName, screens } from '../../web/view/screens.ts'
import { whenLive } from './browser.ts'
import { demoJourney } from './demoJourney.ts'

/** Where each screen is in this server; null: nothing on it is from now. */
const ADDRESSES: Record<ScreenName, string | null> = {
  plants: '#/',
  plant: '#/plant/quennerby',
  trials: '#/plant/quennerby/trials',
  run: '#/plant/quennerby/trials/1',
  lessons: '#/plant/quennerby/lessons',
  desk: '#/plant/quennerby/lessons/1',
  projector: '#/plant/quennerby/projector',
  lessonProjector: '#/plant/quennerby/lessons/1/projector',
  replay: '#/replay/1',
  phone: '#/lesson/',
  health: '#/health',
  reference: null,
  people: null,
  'sign-in': null,
  'set-up': null,
}
const shown = Object.entries(ADDRESSES).flatMap(([name, address]) =>
  address === null ? [] : [[name as ScreenName, address] as const],
)

describe('every screen while its server is gone', () => {
  const pages = new Map<ScreenName, Page>()
  const demo = demoJourney()

  beforeAll(async () => {
    const from = Date.now()
    await demo.ask('/api/plants/quennerby/runs', { trial: 'efficiencyDischarge', name: 'First' })
    await demo.ask('/api/plants/quennerby/lessons', { title: 'Pelton wheel' })
    const { code } = await demo.ask<{ code: string }>('/api/lessons/1')
    // something to look back at
    await new Promise((resolve) => setTimeout(resolve, 6000))
    await demo.ask('/api/plants/quennerby/replays', { from, to: Date.now() - 1000 })
    for (const [name, address] of shown) {
      const page = await demo.browser.open(
        `${demo.server.url}/${name === 'phone' ? `#/lesson/${code}` : address}`,
      )
      if (name === 'phone') await join(page)
      await page.waitForSelector('h1')
      if (screens[name].frame === 'plant') await whenLive(page)
      pages.set(name, page)
    }
    await pages.get('plant')!.waitForSelector('[data-panel=agreement] [data-agreement]')
    await demo.server.stop('SIGKILL')
  }, 180_000)

  async function join(page: Page): Promise<void> {
    await page.fill('#join-group', 'Blue')
    await page.click('[data-action=join]')
    await page.waitForSelector('[data-screen=phone] .value')
  }

  it.each(shown)('shows nothing on %s as if it were from now', async (name) => {
    const page = pages.get(name)!
    await page.waitForSelector('[data-withheld="true"]', { timeout: 10_000 })
    expect(await page.evaluate(looksLive)).toEqual([])
    expect(await page.getAttribute('html', 'data-live')).not.toBe('true')
  })

  it('keeps what was last known of a plant when one comes back to it', async () => {
    const page = pages.get('plant')!
    const before = await page.locator('[data-panel=key] .value').count()
    await page.click('a[href="#/health"]')
    // the screen itself has never been fetched
    await page.waitForSelector('[data-banner=missing]')
    await page.goBack()
    await page.waitForSelector('[data-screen=plant][data-withheld="true"] .value')
    await page.waitForSelector('[data-banner=lost]')
    expect(await page.locator('[data-panel=key] .value').count()).toBe(before)
    expect(await page.evaluate(looksLive)).toEqual([])
  })
})

/** In the page: what stands there as if it were from now. */
function looksLive(): string[] {
  const found: string[] = []
  const say = (what: string) => (element: Element) => {
    found.push(`${what}: ${element.outerHTML.slice(0, 120)}`)
  }
  const all = (selector: string) => [...document.querySelectorAll(selector)]
  const ground = '[data-withheld="true"]'
  all('.lamp-live').forEach(say('lamp'))
  for (const part of ['.value', '.giant-number', '.path-band', '.path-bar', '.state-word'])
    all(part)
      .filter((element) => !element.closest(ground))
      .forEach(say('on live ground'))
  all(`${ground} .panel:not([data-still])`)
    .filter((panel) => !panel.querySelector('.last-known'))
    .forEach(say('panel without its time'))
  all('.state-word, .projector-state')
    .filter((element) => !element.querySelector('.last-known'))
    .forEach(say('state without its time'))
  all('[data-control]')
    .filter((control) => !control.matches(':disabled'))
    .forEach(say('control in use'))
  all('[data-lamp]:not([data-lamp=unknown])').forEach(say('steady'))
  const claims =
    /No alarm is active|No alarms|at the plant now|^Steady for|^for \d+ s$|^The instruments agree/
  all(`${ground} p, ${ground} li, ${ground} span`)
    .filter((element) => claims.test(element.textContent ?? ''))
    .forEach(say('claim'))
  return found
}
