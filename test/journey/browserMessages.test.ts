import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { THREE_SENSORS } from '../support/plants.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type JourneyBrowser, openBrowser } from './browser.ts'

const NOTIFY = `headraceNotify: 1
timeZone: Europe/London
channels: [{ id: screen, kind: webPush, contact: 'mailto:admin@plant.example' }]
recipients: [{ id: anna, name: Anna, by: [{ channel: screen }] }]
rules: [{ to: [anna] }]
`

/** What a push service would give: there is none here. Keys of the right length (RFC 8291: 65 and 16 bytes). */
const SUBSCRIPTION = {
  endpoint: 'https://push.example/abc',
  keys: { p256dh: `B${'A'.repeat(86)}`, auth: 'A'.repeat(22) },
}

describe('alarm messages of a browser', () => {
  const scratch = scratchFolder()
  let server: ServerProcess
  let browser: JourneyBrowser
  let page: Page

  beforeAll(async () => {
    server = await startServer([
      '--data',
      scratch.path,
      '--mqtt-port',
      '0',
      '--http-port',
      '0',
      '--plant',
      scratch.file('mill.yaml', THREE_SENSORS),
      '--notify',
      scratch.file('notify.yaml', NOTIFY),
    ])
    browser = await openBrowser()
    page = await browser.open(server.url)
    await page.context().grantPermissions(['notifications'])
    await page.evaluate(
      async (code) => {
        const body = JSON.stringify({ code, name: 'Ada', password: 'turn the water on' })
        await fetch('/api/setup', { method: 'POST', headers: { 'content-type': 'application/json' }, body })
      },
      /Set-up code (\S+):/.exec(server.output())![1]!,
    )
    await page.addInitScript((subscription) => {
      const registered = { toJSON: () => subscription } as unknown as PushSubscription
      PushManager.prototype.subscribe = async () => registered
    }, SUBSCRIPTION)
    await page.goto(`${server.url}/#/health`)
    await page.reload()
  })

  afterAll(async () => {
    await browser.close()
    await server.stop()
    scratch.remove()
  })

  it('are offered where a person is told by a browser, and this one is registered', async () => {
    const part = page.locator('[data-notify="browser"]')
    await part.waitFor({ timeout: 10_000 })
    expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([])
    await part.locator('button').click()
    await part.getByText('This browser shows alarm messages.').waitFor({ timeout: 10_000 })
  })

  it('appear on the screen with a link, also when the page is not looked at', async () => {
    const devtools = await page.context().newCDPSession(page)
    const registered = new Promise<string>((resolve) => {
      devtools.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
        const id = registrations[0]?.registrationId
        if (id) resolve(id)
      })
    })
    await devtools.send('ServiceWorker.enable')
    await devtools.send('ServiceWorker.deliverPushMessage', {
      origin: server.url,
      registrationId: await registered,
      data: JSON.stringify({
        id: 'hr_1',
        title: 'Mill: Over-speed',
        url: `${server.url}/#/`,
        isUrgent: true,
      }),
    })
    await page.waitForFunction(async () => {
      const registration = await navigator.serviceWorker.ready
      return (await registration.getNotifications()).some(
        ({ title, tag, requireInteraction }) =>
          title === 'Mill: Over-speed' && tag === 'hr_1' && requireInteraction,
      )
    })
  })
})
