import { afterAll, beforeAll } from 'vitest'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type JourneyBrowser, openBrowser } from './browser.ts'

/** The built demo and a browser before it, from the first test of a block to its last. */
export interface DemoJourney {
  server: ServerProcess
  browser: JourneyBrowser
  /** Reads an answer, or posts a body; as somebody at the machine of the server. @throws {Error} where it is refused. */
  ask<T>(path: string, body?: object): Promise<T>
}

export function demoJourney(): DemoJourney {
  const scratch = scratchFolder()
  const journey = { ask } as DemoJourney

  async function ask<T>(path: string, body?: object): Promise<T> {
    const init = body && {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    }
    const response = await fetchHere(journey.server.url + path, init)
    if (!response.ok) throw new Error(await response.text())
    return (await response.json()) as T
  }

  beforeAll(async () => {
    const folder = ['--data', scratch.path]
    journey.server = await startServer(['--demo', ...folder, '--http-port', '0', '--mqtt-port', '0'])
    journey.browser = await openBrowser()
  })
  afterAll(async () => {
    await journey.browser.close()
    await journey.server.stop()
    scratch.remove()
  })
  return journey
}
