import { execFile } from 'node:child_process'
import { promisify } from 'node:util'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Mosquitto, startMosquitto } from '../support/mosquitto.ts'
import { THREE_SENSORS } from '../support/plants.ts'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type JourneyBrowser, openBrowser, whenLive } from './browser.ts'

/** Publishes as a foreign client does. */
const publish = (port: number, topic: string, payload: string) =>
  promisify(execFile)('mosquitto_pub', ['-p', String(port), '-t', topic, '-m', payload])

// By hand: p = 480 kPa, Q = 12 L/s, D = 100 mm, gauge 0.35 m above the jet, ρ = 1000, g = 9.81:
// v = 0.012/(π·0.1²/4) = 1.527887 m/s; H = 480000/9810 + 0.35 + v²/19.62 = 49.398654 m + … ; P = ρgQH; η = 4000/P
const VELOCITY = 0.012 / ((Math.PI * 0.1 ** 2) / 4)
const NET_HEAD = 480_000 / 9810 + 0.35 + VELOCITY ** 2 / 19.62
const HYDRAULIC_POWER = 1000 * 9.81 * 0.012 * NET_HEAD

describe.each(['embedded', 'external'] as const)(
  'a value published with mosquitto_pub to the %s broker',
  (kind) => {
    const scratch = scratchFolder()
    let mosquitto: Mosquitto | undefined
    let server: ServerProcess
    let browser: JourneyBrowser
    let port: number

    beforeAll(async () => {
      const plant = scratch.file('mill.yaml', THREE_SENSORS)
      const common = ['--plant', plant, '--data', scratch.path, '--http-port', '0']
      if (kind === 'external') {
        mosquitto = await startMosquitto()
        port = mosquitto.port
        server = await startServer([...common, '--mqtt-url', mosquitto.url])
      } else {
        server = await startServer([...common, '--mqtt-port', '0'])
        const health = (await (await fetchHere(`${server.url}/api/health`)).json()) as {
          source: { name: string }
        }
        port = Number(/:(\d+)$/.exec(health.source.name)![1])
      }
      browser = await openBrowser()
    })

    afterAll(async () => {
      await browser.close()
      await server.stop()
      await mosquitto?.close()
      scratch.remove()
    })

    it('appears on the screen with the head, power and efficiency worked out by hand', async () => {
      const page = await browser.open(`${server.url}/#/plant/mill`)
      await whenLive(page)
      await publish(port, 'mill/pressure', '4.8')
      await publish(port, 'mill/flow', '12')
      await publish(port, 'mill/power', '4')
      const shown = async (figure: string) => {
        const cell = page.locator(`[data-figure="${figure}"]:not([data-wire=""])`).first()
        await cell.waitFor({ timeout: 5000 })
        return { wire: Number(await cell.getAttribute('data-wire')), text: (await cell.textContent())! }
      }
      const head = await shown('netHead')
      expect(head.wire).toBeCloseTo(NET_HEAD, 6)
      expect(head.text).toContain(NET_HEAD.toFixed(1))
      expect((await shown('hydraulicPower')).wire).toBeCloseTo(HYDRAULIC_POWER, 4)
      expect((await shown('waterToWireEfficiency')).wire).toBeCloseTo(4000 / HYDRAULIC_POWER, 8)
      expect(browser.errors).toEqual([])
    })

    it('is counted and shown as a fault where it is no number, while the figure keeps its last value', async () => {
      const page = await browser.open(`${server.url}/#/health`)
      await publish(port, 'mill/flow', 'twelve')
      const fault = page.locator('text=/payload is "twelve"/').first()
      await fault.waitFor({ timeout: 10_000 })
      const live = (await (await fetchHere(`${server.url}/api/plants/mill/live`)).json()) as {
        plant: { figures: { id: string }[] }
        values: { value: number }[]
      }
      const discharge = live.plant.figures.findIndex((figure) => figure.id === 'discharge')
      expect(live.values[discharge]!.value).toBeCloseTo(0.012, 9)
    })
  },
)
