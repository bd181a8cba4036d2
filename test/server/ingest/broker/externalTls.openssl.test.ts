import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { type AddressInfo, connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createServer, type Server } from 'node:tls'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import type { Broker } from '../../../../server/ingest/broker/broker.ts'
import { createEmbeddedBroker } from '../../../../server/ingest/broker/embedded.ts'
import {
  createExternalBroker,
  type ExternalBrokerOptions,
} from '../../../../server/ingest/broker/external.ts'
import { isConnected, messageOf, statusOf } from '../../../support/brokerEvents.ts'

describe('createExternalBroker over TLS', () => {
  const folder = mkdtempSync(join(tmpdir(), 'headrace-tls-'))
  const path = (name: string) => join(folder, name)
  const behind = createEmbeddedBroker({ clock: systemClock, port: 0 })
  let door: Server
  let broker: Broker | undefined

  /** A certificate authority of our own and a certificate for "localhost" that it signed. */
  function makeCertificates(): void {
    const openssl = (...args: string[]) => execFileSync('openssl', args, { cwd: folder, stdio: 'pipe' })
    const key = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes']
    openssl(
      'req',
      '-x509',
      ...key,
      '-keyout',
      'ca.key',
      '-out',
      'ca.pem',
      '-days',
      '2',
      '-subj',
      '/CN=Test authority',
    )
    openssl('req', ...key, '-keyout', 'server.key', '-out', 'server.csr', '-subj', '/CN=localhost')
    writeFileSync(path('names'), 'subjectAltName=DNS:localhost')
    const signed = ['-CA', 'ca.pem', '-CAkey', 'ca.key', '-CAcreateserial', '-days', '2', '-extfile', 'names']
    openssl('x509', '-req', '-in', 'server.csr', ...signed, '-out', 'server.pem')
  }

  async function open(options: Partial<ExternalBrokerOptions> = {}): Promise<Broker> {
    const { port } = door.address() as AddressInfo
    broker = createExternalBroker({ clock: systemClock, url: `mqtts://localhost:${port}`, ...options })
    broker.subscribe(['mill/#'])
    await broker.start()
    return broker
  }

  beforeAll(async () => {
    makeCertificates()
    await behind.start()
    const files = { key: readFileSync(path('server.key')), cert: readFileSync(path('server.pem')) }
    door = createServer(files, (secure) => {
      const plain = connect(behind.port(), '127.0.0.1')
      secure.on('error', () => plain.destroy()).pipe(plain)
      plain.on('error', () => secure.destroy()).pipe(secure)
    })
    door.on('tlsClientError', () => {})
    await new Promise<void>((resolve) => door.listen(0, resolve))
  })

  afterEach(async () => {
    await broker?.close()
  })

  afterAll(async () => {
    await new Promise((resolve) => door.close(resolve))
    await behind.close()
    rmSync(folder, { recursive: true })
  })

  it('connects where the CA file has signed the broker’s certificate', async () => {
    const one = await open({ caFile: path('ca.pem') })
    expect((await statusOf(one, isConnected)).name).toMatch(/^mqtts:\/\/localhost:\d+$/)
    const back = messageOf(one, 'mill/level')
    one.publish('mill/level', '1')
    expect(Buffer.from((await back).payload).toString()).toBe('1')
  })

  it('does not connect without it, and says what to give', async () => {
    const one = await open()
    const refused = await statusOf(one, (status) => status.detail !== undefined)
    expect(refused).toMatchObject({
      connected: false,
      detail: 'its certificate is not trusted: give the CA file that signed it',
    })
  })

  it('does not connect where the certificate is for another name', async () => {
    const one = await open({ caFile: path('ca.pem'), serverName: 'broker.example' })
    const refused = await statusOf(one, (status) => status.detail !== undefined)
    expect(refused.detail).toBe('its certificate is for another host name')
  })
})
