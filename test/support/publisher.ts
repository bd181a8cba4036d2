import { connectAsync, type MqttClient } from 'mqtt'
import { fetchHere } from './serverProcess.ts'

/** A client of an MQTT library, as a sensor gateway would be. */
export async function connectPublisher(url: string): Promise<MqttClient> {
  return connectAsync(url, { reconnectPeriod: 200 })
}

/** Asks again, soon at first and at last every 50 ms, until the answer fits; fails with the last answer after the limit. */
export async function until<T>(
  ask: () => Promise<T>,
  fits: (answer: T) => boolean,
  limitMs = 10_000,
): Promise<T> {
  const end = performance.now() + limitMs
  let last: T | undefined
  let fault: unknown
  let pauseMs = 1
  while (performance.now() < end) {
    try {
      last = await ask()
      if (fits(last)) return last
    } catch (error) {
      fault = error
    }
    await new Promise((resolve) => setTimeout(resolve, pauseMs))
    pauseMs = Math.min(50, 2 * pauseMs)
  }
  throw new Error(
    `not within ${limitMs} ms; the last answer was ${JSON.stringify(last)?.slice(0, 2000)} ${fault ?? ''}`,
  )
}

/** GET as JSON. */
export async function getJson<T>(url: string): Promise<T> {
  const response = await fetchHere(url)
  if (!response.ok) throw new Error(`${url}: ${response.status} ${await response.text()}`)
  return (await response.json()) as T
}
