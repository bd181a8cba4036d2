import { copyFileSync } from 'node:fs'
import { connect as connectTcp } from 'node:net'
import { connect as connectTls, type TLSSocket } from 'node:tls'
import { connectAsync, type MqttClient } from 'mqtt'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Certificate, openCertificate } from '../../../../server/certificate.ts'
import type { Message } from '../../../../server/ingest/broker/broker.ts'
import {
  createEmbeddedBroker,
  type EmbeddedBroker,
  type EmbeddedBrokerOptions,
} from '../../../../server/ingest/broker/embedded.ts'
import { type CertificateFiles, makeCertificate } from '../../../support/certificates.ts'
import { type ManualClock, manualClock } from '../../../support/manualClock.ts'
import { until } from '../../../support/publisher.ts'
import { scratchFolder } from '../../../support/scratch.ts'

describe('the broker inside with a certificate', () => {
  let scratch: ReturnType<typeof scratchFolder>
  let clock: ManualClock
  let files: CertificateFiles
  let certificate: Certificate
  let broker: EmbeddedBroker
  let got: Message[]
  let log: string[]
  const clients: MqttClient[] = []

  beforeEach(() => {
    scratch = scratchFolder()
    clock = manualClock(Date.now())
    files = makeCertificate(scratch.path, 'server')
    certificate = openCertificate(
      { tlsCertificate: files.certificate, tlsKey: files.key },
      { clock, tell: () => {} },
    )!
    got = []
    log = []
  })
  afterEach(async () => {
    for (const client of clients.splice(0)) client.end(true)
    await broker.close()
    certificate.close()
    scratch.remove()
  })

  async function start(options: Partial<EmbeddedBrokerOptions> = {}): Promise<void> {
    broker = createEmbeddedBroker({ clock, port: 0, certificate, log: (line) => log.push(line), ...options })
    broker.subscribe(['#'])
    broker.onMessage((message) => got.push(message))
    await broker.start()
  }

  async function connect(url: string, ca = files.ca): Promise<MqttClient> {
    const client = await connectAsync(url, { ca, reconnectPeriod: 0, connectTimeout: 3000 }, false)
    client.on('error', () => {})
    clients.push(client)
    return client
  }
  const secure = (ca = files.ca) => connect(`mqtts://localhost:${broker.port()}`, ca)

  /** What the server shows a client that begins now. */
  function shake(options: object = {}): Promise<TLSSocket> {
    return new Promise((resolve, reject) => {
      const socket = connectTls({ port: broker.port(), rejectUnauthorized: false, ...options })
      socket.once('error', reject)
      socket.once('secureConnect', () => resolve(socket))
    })
  }

  it('takes readings over TLS', async () => {
    await start()
    const client = await secure()
    await client.publishAsync('mill/power', '3.5', { qos: 1 })
    expect(got.map(({ topic, payload }) => [topic, String(payload)])).toEqual([['mill/power', '3.5']])
    expect(broker.status().name).toContain('with TLS')
  })

  it('refuses who speaks without, says so in the log, and keeps no connection of it', async () => {
    await start({ maxConnections: 1 })
    await expect(connect(`mqtt://127.0.0.1:${broker.port()}`)).rejects.toThrow()
    await until(
      async () => log,
      (lines) => lines.some((line) => line.includes('no TLS came about')),
    )
    expect(got).toEqual([])
    await secure()
  })

  it('speaks nothing below TLS 1.2', async () => {
    await start()
    const old = { minVersion: 'TLSv1', maxVersion: 'TLSv1.1', ciphers: 'DEFAULT@SECLEVEL=0' }
    await expect(shake(old)).rejects.toMatchObject({ code: 'ERR_SSL_TLSV1_ALERT_PROTOCOL_VERSION' })
    const socket = await shake({ maxVersion: 'TLSv1.2' })
    expect(socket.getProtocol()).toBe('TLSv1.2')
    socket.destroy()
  })

  // RFC 9325, 4.2: ECDHE with AES-GCM is recommended; 4.1: nothing without forward secrecy, and CBC is not recommended
  it.each(['AES128-GCM-SHA256', 'AES128-SHA', 'ECDHE-RSA-AES128-SHA', 'ECDHE-RSA-AES256-SHA384'])(
    'does not take the cipher %s',
    async (ciphers) => {
      await start()
      const shaken = shake({ maxVersion: 'TLSv1.2', ciphers: `${ciphers}:@SECLEVEL=0` })
      await expect(shaken).rejects.toMatchObject({ code: 'ERR_SSL_SSLV3_ALERT_HANDSHAKE_FAILURE' })
    },
  )

  it('takes the cipher that small devices have', async () => {
    await start()
    const socket = await shake({
      maxVersion: 'TLSv1.2',
      ciphers: 'ECDHE-RSA-AES128-GCM-SHA256:ECDHE-ECDSA-AES128-GCM-SHA256',
    })
    expect(socket.getCipher().name).toMatch(/^ECDHE-(RSA|ECDSA)-AES128-GCM-SHA256$/)
    socket.destroy()
  })

  it('counts connections that have not shaken hands yet among those of an address', async () => {
    await start({ maxUnknown: 2 })
    const silent = [connectTcp(broker.port(), '127.0.0.1'), connectTcp(broker.port(), '127.0.0.1')]
    await Promise.all(silent.map((socket) => new Promise((resolve) => socket.once('connect', resolve))))
    await expect(secure()).rejects.toThrow()
    for (const socket of silent) socket.destroy()
    await until(
      async () =>
        secure().then(
          () => true,
          () => false,
        ),
      (isIn) => isIn,
    )
  })

  it('takes new connections of one network no faster than 20/s, after 100 at once', async () => {
    await start({ maxUnknown: 1000 })
    const closed: boolean[] = []
    const sockets = Array.from({ length: 110 }, (_, nth) => {
      const socket = connectTcp(broker.port(), '127.0.0.1')
      socket.on('error', () => {})
      socket.once('close', () => {
        closed[nth] = true
      })
      return socket
    })
    await until(
      async () => closed.filter(Boolean).length,
      (count) => count === 10,
    )
    expect(log.join()).toContain('too many new ones')
    await expect(secure()).rejects.toThrow()
    clock.advance(1000)
    await secure()
    for (const socket of sockets) socket.destroy()
  })

  it('takes no more than 200 at once of all strangers together, while who has logged in before comes in', async () => {
    await start({ maxUnknown: 1000 })
    await secure()
    let closed = 0
    const knock = (localAddress: string) => {
      const socket = connectTcp({ port: broker.port(), host: '127.0.0.1', localAddress })
      socket.on('error', () => {})
      socket.once('close', () => closed++)
      return socket
    }
    const sockets = Array.from({ length: 230 }, (_, nth) => knock(`127.0.${1 + (nth % 8)}.${1 + nth}`))
    await until(
      async () => closed,
      // the one that logged in was a stranger at first
      (count) => count === 31,
    )
    expect(broker.counters().handshakesRefused).toBe(31)
    expect(log.join()).toContain('50/s are taken of all networks from which nobody has logged in')
    await secure()
    for (const socket of sockets) socket.destroy()
  })

  it('no longer counts a client among the unknown once it has logged in', async () => {
    await start({ maxUnknown: 1 })
    for (let i = 0; i < 4; i++) await secure()
  })

  it('shows a new certificate to who comes next, while a connection that is open goes on', async () => {
    await start()
    const client = await secure()
    const next = makeCertificate(scratch.path, 'next')
    copyFileSync(next.certificate, files.certificate)
    copyFileSync(next.key, files.key)
    clock.advance(2000)
    const socket = await shake()
    expect(socket.getPeerCertificate().subject.CN).toBe('next')
    socket.destroy()
    await expect(secure()).rejects.toThrow()
    await (await secure(next.ca)).publishAsync('mill/a', '1', { qos: 1 })
    await client.publishAsync('mill/b', '2', { qos: 1 })
    expect(client.connected).toBe(true)
    expect(got.map(({ topic }) => topic)).toEqual(['mill/a', 'mill/b'])
  })

  it('has a plain port for the simulator on this machine only where that is asked for', async () => {
    await start()
    expect(broker.innerUrl()).toBe(`mqtt://127.0.0.1:${broker.port()}`)
    await broker.close()
    await start({ hasInnerPort: true })
    const client = await connect(broker.innerUrl())
    await client.publishAsync('mill/power', '1', { qos: 1 })
    expect(got).toHaveLength(1)
  })
})
