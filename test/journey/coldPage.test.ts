import { get } from 'node:http'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { THREE_SENSORS } from '../support/plants.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type JourneyBrowser, openBrowser, whenLive } from './browser.ts'

/** Document, scripts, styles and fonts of a first visit [bytes on the wire]. */
const LARGEST_PAGE = 200_000

describe('a first visit', () => {
  const scratch = scratchFolder()
  const words: string[] = []
  /** Address by request. */
  const files = new Map<string, string>()
  let bytes = 0
  let server: ServerProcess
  let browser: JourneyBrowser

  beforeAll(async () => {
    const plant = scratch.file('mill.yaml', THREE_SENSORS)
    const ports = ['--mqtt-port', '0', '--http-port', '0']
    server = await startServer(['--data', scratch.path, ...ports, '--plant', plant])
    browser = await openBrowser()
    const page = await browser.open(`${server.url}/#/plant/mill`)
    page.on('console', (message) => words.push(message.text()))
    page.on('pageerror', (error) => words.push(error.message))
    const devtools = await page.context().newCDPSession(page)
    devtools.on('Network.responseReceived', ({ requestId, type, response }) => {
      if (['Document', 'Script', 'Stylesheet', 'Font'].includes(type)) files.set(requestId, response.url)
    })
    devtools.on('Network.loadingFinished', ({ requestId, encodedDataLength }) => {
      if (files.has(requestId)) bytes += encodedDataLength
    })
    await devtools.send('Network.enable')
    await devtools.send('Network.setCacheDisabled', { cacheDisabled: true })
    await page.reload({ waitUntil: 'networkidle' })
    await whenLive(page)
  })

  afterAll(async () => {
    await browser.close()
    await server.stop()
    scratch.remove()
  })

  it('brings at most 200 kB of page over the wire, and not a word on the console', () => {
    expect(words).toEqual([])
    expect(files.size).toBeGreaterThanOrEqual(3)
    expect(bytes).toBeGreaterThan(20_000)
    expect(bytes).toBeLessThanOrEqual(LARGEST_PAGE)
  })

  it('brings no more where the page comes without HTTPS, for which browsers take gzip alone', async () => {
    const sizes = await Promise.all([...files.values()].map(sizeInGzip))
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThanOrEqual(LARGEST_PAGE)
  })
})

/** Of the body as it stands on the wire [bytes]; `fetch` would unpack it. */
function sizeInGzip(url: string): Promise<number> {
  return new Promise((resolve, reject) => {
    get(url, { headers: { 'accept-encoding': 'gzip' } }, async (reply) =>
      resolve(Buffer.concat(await reply.toArray()).length),
    ).on('error', reject)
  })
}
