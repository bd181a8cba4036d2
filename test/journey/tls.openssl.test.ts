import { copyFileSync } from 'node:fs'
import { connectAsync } from 'mqtt'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type CertificateFiles, makeCertificate } from '../support/certificates.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type JourneyBrowser, openBrowser, whenLive } from './browser.ts'

const PASSWORD = 'turn the water on'

describe('a built server with a certificate', () => {
  const scratch = scratchFolder()
  let files: CertificateFiles
  let server: ServerProcess
  let browser: JourneyBrowser

  beforeAll(async () => {
    files = makeCertificate(scratch.path, 'server', 10)
    const tls = ['--tls-certificate', files.certificate, '--tls-key', files.key]
    const ports = ['--http-port', '0', '--mqtt-port', '0']
    server = await startServer(['--demo', '--data', `${scratch.path}/data`, ...ports, ...tls])
    browser = await openBrowser()
  })
  afterAll(async () => {
    await browser.close()
    await server.stop()
    scratch.remove()
  })

  it('shows the demo live over https, whose simulator reaches the broker inside', async () => {
    expect(server.url).toMatch(/^https:/)
    const code = /Set-up code (\S+):/.exec(server.output())![1]!
    const page = await browser.open(`${server.url}/#/set-up`)
    await page.fill('input[name="code"]', code)
    await page.fill('input[name="name"]', 'Ada Weir')
    await page.fill('input[name="password"]', PASSWORD)
    await page.keyboard.press('Enter')
    await page.waitForSelector('[data-screen="people"]')
    await page.goto(`${server.url}/#/plant/quennerby`)
    await whenLive(page)
    const [cookie] = await page.context().cookies()
    expect(cookie).toMatchObject({ secure: true, httpOnly: true, sameSite: 'Strict' })
  })

  it('warns on the page Health of a certificate that ends within 14 days, and no longer once it is renewed', async () => {
    const page = await browser.open(`${server.url}/#/sign-in`)
    await page.fill('[data-panel="signIn"] input[name="name"]', 'Ada Weir')
    await page.fill('[data-panel="signIn"] input[name="password"]', PASSWORD)
    await page.keyboard.press('Enter')
    await page.locator('[data-who="Ada Weir"]').waitFor()
    await page.goto(`${server.url}/#/health`)
    const fact = page.locator('[data-fact="Certificate"]')
    await fact.waitFor()
    expect(await fact.textContent()).toMatch(/ends on .*: renew it/)
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(1440)
    const next = makeCertificate(scratch.path, 'next', 90)
    copyFileSync(next.certificate, files.certificate)
    copyFileSync(next.key, files.key)
    await page.waitForFunction(
      () => !document.querySelector('[data-fact="Certificate"]')?.textContent?.includes('renew'),
      undefined,
      { timeout: 15_000 },
    )
    const port = /with TLS on 127\.0\.0\.1:(\d+)/.exec((await page.textContent('[data-fact="Source"]'))!)![1]
    const client = await connectAsync(`mqtts://localhost:${port}`, { ca: next.ca, reconnectPeriod: 0 }, false)
    await client.endAsync()
  })
})

describe('a built server with a certificate that cannot be used', () => {
  it('does not start, and says why in a sentence', async () => {
    const scratch = scratchFolder()
    const { certificate } = makeCertificate(scratch.path, 'one')
    const { key } = makeCertificate(scratch.path, 'other')
    const start = startServer(['--data', scratch.path, '--tls-certificate', certificate, '--tls-key', key])
    await expect(start).rejects.toThrow(`The key ${key} does not belong to the certificate ${certificate}.`)
    scratch.remove()
  })
})
