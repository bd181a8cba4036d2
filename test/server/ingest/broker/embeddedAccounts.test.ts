import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import { createEmbeddedBroker, type EmbeddedBroker } from '../../../../server/ingest/broker/embedded.ts'
import {
  createDoorkeeper,
  newAccount,
  readAccounts,
} from '../../../../server/ingest/broker/embeddedAccounts.ts'
import { collect, foreignClient } from '../../../support/brokerEvents.ts'
import { scratchFolder } from '../../../support/scratch.ts'

const scratch = scratchFolder()
const logger = newAccount('logger')
const panel = newAccount('panel')
const FILE = `accounts:
${logger.lines.replace('publish: []', 'publish: [mill/]')}
    clientId: logger-1
${panel.lines.replace('subscribe: []', 'subscribe: [mill/, headrace/mill/]')}
`

describe('the accounts of devices at the embedded broker', () => {
  let broker: EmbeddedBroker
  let lines: string[]
  const ended: (() => unknown)[] = []

  beforeEach(async () => {
    lines = []
    const accounts = readAccounts(scratch.file('accounts.yaml', FILE))
    broker = createEmbeddedBroker({ clock: systemClock, port: 0, accounts, log: (line) => lines.push(line) })
    broker.subscribe(['#'])
    await broker.start()
  })
  afterEach(async () => {
    await Promise.all(ended.splice(0).map((end) => end()))
    await broker.close()
  })

  async function client(username: string, password: string, clientId?: string) {
    const one = await foreignClient(broker.port(), { username, password, ...(clientId ? { clientId } : {}) })
    one.on('error', () => {})
    ended.push(() => one.endAsync(true))
    return one
  }

  it('let a device publish where it may, and cut it off elsewhere', async () => {
    const all = collect(broker)
    const one = await client('logger', logger.password, 'logger-1')
    await one.publishAsync('mill/speed', '1500', { qos: 1 })
    expect(all).toEqual([['mill/speed', '1500', false]])
    const gone = new Promise<void>((resolve) => one.once('close', () => resolve()))
    one.publish('other/speed', '1500')
    await gone
    expect(all).toHaveLength(1)
    expect(lines.join()).toContain('it may not publish to "other/speed"')
  })

  it('let no last will of a device go where the device may not publish', async () => {
    const all = collect(broker)
    const will = (topic: string) => ({ topic, payload: Buffer.from('gone'), qos: 1 as const, retain: false })
    const options = { username: 'logger', password: logger.password, clientId: 'logger-1' }
    for (const topic of ['other/speed', 'mill/state']) {
      const one = await foreignClient(broker.port(), { ...options, will: will(topic) })
      one.on('error', () => {})
      one.stream.destroy()
      await vi.waitFor(() => expect(one.connected).toBe(false))
    }
    await vi.waitFor(() => expect(all).toEqual([['mill/state', 'gone', false]]))
  })

  it('let a reader subscribe where it may and publish nowhere', async () => {
    const one = await client('panel', panel.password)
    const wanted = ['mill/#', 'headrace/mill/figures/+', '#', 'other/speed']
    const granted = await new Promise((resolve) =>
      one.subscribe(wanted, (_error, _granted, suback) => resolve(suback?.granted)),
    )
    // 128 is "failure", MQTT 3.1.1 § 3.9.3
    expect(granted).toEqual([0, 0, 128, 128])
    const gone = new Promise<void>((resolve) => one.once('close', () => resolve()))
    one.publish('mill/speed', '1500')
    await gone
  })

  it('let nobody take the client id that a client of another account has', async () => {
    const reader = await client('panel', panel.password, 'screen')
    const lost: string[] = []
    reader.on('close', () => lost.push('cut off'))
    await expect(client('logger', logger.password, 'screen')).rejects.toThrow()
    await expect(reader.subscribeAsync('mill/#')).resolves.toBeDefined()
    expect(lost).toEqual([])
  })

  it('keep out whoever has no password, a wrong one, or the client id of another', async () => {
    for (const wrong of [
      foreignClient(broker.port()),
      foreignClient(broker.port(), { username: 'logger', password: panel.password, clientId: 'logger-1' }),
      foreignClient(broker.port(), { username: 'logger', password: logger.password, clientId: 'other' }),
      foreignClient(broker.port(), { username: 'nobody', password: logger.password }),
    ])
      await expect(wrong).rejects.toThrow('Bad username or password')
  })
})

describe('guessing at the password of a device', () => {
  let mono = 0
  const { password } = newAccount('x')
  const accounts = () => readAccounts(scratch.file('guess.yaml', FILE))
  const guess = (i: number) => ({
    address: '192.0.2.9',
    clientId: `c${i}`,
    user: 'logger',
    password: `wrong-${i}`,
  })
  const right = { address: '192.0.2.9', clientId: 'logger-1', user: 'logger', password: logger.password }

  it('is slowed down at its address, while a device that was there before comes in', () => {
    const door = createDoorkeeper({ accounts: accounts() }, () => mono)
    expect(door.rightsOf(right)).toMatchObject({ publish: ['mill/'] })
    for (let i = 0; i < 100; i++) expect(door.rightsOf(guess(i))).toBeUndefined()
    expect(door.rightsOf({ ...right, clientId: 'logger-1', address: '192.0.2.9' })).toBeDefined()
    expect(
      door.rightsOf({ ...right, user: 'panel', clientId: 'p', password: panel.password }),
    ).toBeUndefined()
    mono += 400_000
    expect(door.rightsOf({ ...right, user: 'panel', clientId: 'p', password: panel.password })).toBeDefined()
  })

  it('slows down nobody at another address, also where the broker hears IPv4 on a socket of IPv6', () => {
    const door = createDoorkeeper({ accounts: accounts() }, () => mono)
    for (let i = 0; i < 100; i++) door.rightsOf({ ...guess(i), address: `::ffff:198.51.100.${i % 5}` })
    expect(door.rightsOf({ ...right, address: '::ffff:192.0.2.9' })).toBeDefined()
  })

  it('under the name of a device that is known slows down no other known one', () => {
    const door = createDoorkeeper({ accounts: accounts() }, () => mono)
    const other = { ...right, user: 'panel', clientId: 'p', password: panel.password }
    for (const one of [right, other]) expect(door.rightsOf(one)).toBeDefined()
    for (let i = 0; i < 100; i++) door.rightsOf({ ...right, password: 'wrong' })
    expect(door.rightsOf(other)).toBeDefined()
  })

  it('has 144 random bits before it', () => {
    expect(Buffer.from(password, 'base64url')).toHaveLength(18)
  })
})

describe('the file of the accounts', () => {
  it.each([
    ['accounts: []', 'at accounts:'],
    [
      'accounts: [{ user: a, password: secret }]',
      'at accounts.0.password: expected "sha256:" and 64 hex digits',
    ],
    ['accounts: [{ user: a, password: secret, admin: true }]', 'at accounts.0'],
    ['a: *b', 'Unresolved alias'],
    [FILE.replace('"panel"', '"logger"'), 'the user "logger" stands in it twice'],
  ])('that says %j is refused in a sentence', (text, sentence) => {
    const file = scratch.file('bad.yaml', text)
    expect(() => readAccounts(file)).toThrow(sentence)
    expect(() => readAccounts(file)).toThrow(file)
  })

  it('that is not there is refused in a sentence', () => {
    expect(() => readAccounts('/nowhere/accounts.yaml')).toThrow(
      '/nowhere/accounts.yaml cannot be used: ENOENT',
    )
  })
})
