import type { AddressInfo } from 'node:net'
import { createServer } from 'node:net'
import { Aedes } from 'aedes'
import { connectAsync } from 'mqtt'
import { describe, expect, it } from 'vitest'
import { createLive } from '../../simulator/live.ts'
import { readOptions } from '../../simulator/options.ts'
import type { OutMessage } from '../../simulator/publish/encode.ts'
import { createMqttLink } from '../../simulator/publish/mqttLink.ts'
import { createSite } from '../../simulator/site.ts'
import { START } from '../support/manualClock.ts'

/** Ticks by hand: no clock runs. */
function bench(speed: number) {
  const sent: OutMessage[] = []
  const said: string[] = []
  let at = 0
  const site = createSite('quennerby', { ideal: true })
  const live = createLive({
    sites: [site],
    publish: (message) => sent.push(message),
    speed,
    mono: () => at,
    now: () => START + at,
    report: (sentence) => said.push(sentence),
  })
  return {
    site,
    sent,
    said,
    tick(ms: number) {
      at += ms
      live.tick()
    },
  }
}

describe('playing against the clock', () => {
  it('moves a plant as many times faster as was asked, with stamps of the wall clock', () => {
    const { site, sent, tick } = bench(10)
    site.command('charger', false)
    site.command('protection', false)
    // 0.6 s of plant time, in which an unloaded rig gains about half (sheet: 150 % after 0.602 s without losses)
    for (let i = 0; i < 3; i++) tick(20)
    expect(site.truth().get('speed')! / 157.08).toBeGreaterThan(1.4)
    const speeds = sent.filter((one) => one.topic === 'quennerby/rotor/speed')
    expect(JSON.parse(speeds.at(-1)!.payload).at).toBeLessThanOrEqual(1_790_000_000_060)
  })

  it('does not make up for a pause of the computer, and says so', () => {
    const { said, tick } = bench(1)
    tick(3_600_000)
    expect(said).toEqual([expect.stringContaining('3600 s late')])
  })
})

describe('the link to a broker', () => {
  it('publishes to a real broker, obeys a command from it and loses nothing of a burst with retained messages', async () => {
    const broker = await Aedes.createBroker()
    const server = createServer(broker.handle)
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
    const url = `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`
    const site = createSite('quennerby', { ideal: true })
    const commands = site.plant.simulation!.controls.map((control) => control.topic)
    let connected = () => {}
    let obeyed = () => {}
    const isConnected = new Promise<void>((resolve) => {
      connected = resolve
    })
    const isObeyed = new Promise<void>((resolve) => {
      obeyed = resolve
    })
    const link = createMqttLink({
      url,
      topics: commands,
      onCommand: (topic, payload) => {
        site.receive(topic, payload)
        obeyed()
      },
      onConnect: () => {
        site.resend()
        connected()
      },
      report: () => {},
    })
    link.publish({ topic: 'a', payload: 'before the connection', retain: false })
    expect(link.counters()).toEqual({ published: 0, dropped: 1 })
    await isConnected
    const listener = await connectAsync(url)
    const due = site.messages(Date.now())
    const heard = new Map<string, string>()
    const hasAll = new Promise<void>((resolve) => {
      listener.on('message', (topic, payload) => {
        heard.set(topic, payload.toString())
        if (heard.size === due.length) resolve()
      })
    })
    await listener.subscribeAsync('quennerby/#')
    for (const message of due) link.publish(message)
    await hasAll
    expect(JSON.parse(heard.get('quennerby/rotor/speed')!).n).toBeCloseTo(1500, 0)
    expect(heard.get('quennerby/jet/1/open')).toBe('1')
    await listener.publishAsync('quennerby/simulator/command/jet-1', '0')
    await isObeyed
    site.step(0.2)
    expect(site.truth().get('jetOpen.1')).toBe(0)
    site.resend()
    expect(site.messages(Date.now()).map((one) => one.topic)).toContain('quennerby/jet/4/open')
    await Promise.all([link.close(), listener.endAsync()])
    await new Promise<void>((resolve) => broker.close(resolve))
    await new Promise((resolve) => server.close(resolve))
  })
})

describe('the options', () => {
  it('have the defaults that --help states', () => {
    expect(readOptions([])).toMatchObject({
      speed: 1,
      seed: 1,
      mqttUrl: 'mqtt://127.0.0.1:1883',
      help: false,
    })
    expect(readOptions([])).toHaveProperty('plants.length', 3)
  })

  it('take plants, scenario, speed, seed and address', () => {
    const argv =
      '--plant a.yaml --plant b.yaml --scenario loadSteps --speed 60 --seed 9 --mqtt-url mqtt://h:1'
    expect(readOptions(argv.split(' '))).toEqual({
      plants: ['a.yaml', 'b.yaml'],
      scenario: 'loadSteps',
      speed: 60,
      seed: 9,
      mqttUrl: 'mqtt://h:1',
      help: false,
    })
  })

  const wrong = [
    ['--speed', '0', '--speed: found "0", expected a number above 0 up to 1000'],
    ['--speed', 'fast', '--speed: found "fast", expected a number above 0 up to 1000'],
    ['--seed', '1.5', '--seed: found "1.5", expected a whole number from 0'],
    ['--mqtt-url', 'broker', '--mqtt-url: found "broker", expected an address such as mqtt://127.0.0.1:1883'],
  ] as const
  it.each(wrong)('refuse %s %s in one sentence', (option, value, sentence) => {
    expect(readOptions([option, value])).toEqual({ fault: sentence })
  })

  it('refuse a scenario and an option that do not exist', () => {
    expect(readOptions(['--scenario', 'comet'])).toHaveProperty(
      'fault',
      expect.stringContaining('expected one of steadyDay'),
    )
    expect(readOptions(['--loud'])).toHaveProperty(
      'fault',
      expect.stringContaining("Unknown option '--loud'"),
    )
  })
})
