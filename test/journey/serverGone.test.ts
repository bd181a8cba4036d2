import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type ScreenName, screens } from '../../web/view/screens.ts'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type JourneyBrowser, openBrowser, whenLive } from './browser.ts'

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
  const scratch = scratchFolder()
  const pages = new Map<ScreenName, Page>()
  let server: ServerProcess
  let browser: JourneyBrowser

  beforeAll(async () => {
    server = await startServer(['--demo', '--data', scratch.path, '--http-port', '0', '--mqtt-port', '0'])
    browser = await openBrowser()
    const from = Date.now()
    await post('/api/plants/quennerby/runs', { trial: 'efficiencyDischarge', name: 'First' })
    await post('/api/plants/quennerby/lessons', { title: 'Pelton wheel' })
    const { code } = await ask<{ code: string }>('/api/lessons/1')
    // something to look back at
    await new Promise((resolve) => setTimeout(resolve, 6000))
    await post('/api/plants/quennerby/replays', { from, to: Date.now() - 1000 })
    for (const [name, address] of shown) {
      const page = await browser.open(`${server.url}/${name === 'phone' ? `#/lesson/${code}` : address}`)
      if (name === 'phone') await join(page)
      await page.waitForSelector('h1')
      if (screens[name].frame === 'plant') await whenLive(page)
      pages.set(name, page)
    }
    await pages.get('plant')!.waitForSelector('[data-panel=agreement] [data-agreement]')
    await server.stop('SIGKILL')
  }, 180_000)

  afterAll(async () => {
    await browser.close()
    await server.stop()
    scratch.remove()
  })

  async function ask<T>(path: string, init?: RequestInit): Promise<T> {
    const response = await fetchHere(server.url + path, init)
    if (!response.ok) throw new Error(await response.text())
    return (await response.json()) as T
  }

  const post = (path: string, body: object) =>
    ask(path, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    })

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
