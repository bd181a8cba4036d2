import { copyFileSync } from 'node:fs'
import type { IncomingHttpHeaders } from 'node:http'
import { Agent, request } from 'node:https'
import { connect as connectTls } from 'node:tls'
import { io as connect } from 'socket.io-client'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openCertificate } from '../../../server/certificate.ts'
import type { HealthReply } from '../../../server/wire/replies.ts'
import { addPerson, BENCH_PASSWORD } from '../../support/accessBench.ts'
import { type CertificateFiles, makeCertificate } from '../../support/certificates.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'
import { scratchFolder } from '../../support/scratch.ts'
import { type TestHeadrace, testHeadrace } from '../../support/testHeadrace.ts'

interface Asked {
  agent: Agent
  body?: object
  cookie?: string
}

interface Reply {
  status: number
  headers: IncomingHttpHeaders
  text: string
  /** Whom the certificate of the connection names. */
  shown: string
}

describe('the page with a certificate', () => {
  const scratch = scratchFolder()
  let files: CertificateFiles
  let headrace: TestHeadrace
  let agent: Agent

  beforeAll(async () => {
    files = makeCertificate(scratch.path, 'server')
    headrace = await testHeadrace({
      plants: [plantOf(THREE_SENSORS)],
      start: Date.now(),
      options: { openReading: true },
      certificate: (clock) =>
        openCertificate(
          { tlsCertificate: files.certificate, tlsKey: files.key },
          { clock, tell: (text) => headrace?.notices.push(text) },
        )!,
    })
    agent = new Agent({ ca: files.ca, keepAlive: true, maxSockets: 1 })
    await addPerson({ access: headrace.pageSide.access, notices: headrace.notices }, 'First', 'administrator')
  })
  afterAll(async () => {
    agent.destroy()
    await headrace.close()
    scratch.remove()
  })

  const ask = (path: string, { agent, body, cookie }: Asked) =>
    new Promise<Reply>((resolve, reject) => {
      const { port } = new URL(headrace.url)
      const headers = {
        ...(body ? { 'content-type': 'application/json' } : {}),
        ...(cookie ? { cookie } : {}),
      }
      const asking = request(
        { agent, host: 'localhost', port, path, method: body ? 'POST' : 'GET', headers },
        (response) => {
          const socket = response.socket as import('node:tls').TLSSocket
          const shown = String(socket.getPeerCertificate().subject?.CN)
          let text = ''
          response.setEncoding('utf8').on('data', (chunk) => {
            text += chunk
          })
          response.on('end', () =>
            resolve({ status: response.statusCode!, headers: response.headers, text, shown }),
          )
        },
      )
      asking.once('error', reject)
      asking.end(body && JSON.stringify(body))
    })

  it('is at an https address and tells browsers to come by no other', async () => {
    expect(headrace.url).toMatch(/^https:/)
    const reply = await ask('/api/session', { agent })
    expect(reply.status).toBe(200)
    // RFC 6797, 6.1
    expect(reply.headers['strict-transport-security']).toMatch(/^max-age=\d{8}$/)
    expect(headrace.notices.join()).not.toContain('without encryption')
  })

  it('gives cookies that go over https alone', async () => {
    const body = { name: 'First', password: BENCH_PASSWORD }
    const signed = await ask('/api/session', { agent, body })
    const [cookie] = signed.headers['set-cookie']!
    expect(cookie).toMatch(/^__Host-headrace=.*; Secure$/)
    const session = await ask('/api/session', { agent, cookie: cookie!.split(';')[0]! })
    expect(JSON.parse(session.text)).toMatchObject({ name: 'First' })
  })

  it('answers nothing without TLS', async () => {
    await expect(fetch(headrace.url.replace('https:', 'http:'))).rejects.toThrow()
  })

  it('speaks nothing below TLS 1.2', async () => {
    const port = Number(new URL(headrace.url).port)
    const old = { minVersion: 'TLSv1', maxVersion: 'TLSv1.1', ciphers: 'DEFAULT@SECLEVEL=0' } as const
    const shaken = new Promise((resolve, reject) => {
      const socket = connectTls({ port, host: '127.0.0.1', rejectUnauthorized: false, ...old })
      socket.once('error', reject)
      socket.once('secureConnect', resolve)
    })
    await expect(shaken).rejects.toMatchObject({ code: 'ERR_SSL_TLSV1_ALERT_PROTOCOL_VERSION' })
  })

  it('says in health until when the certificate lasts', async () => {
    const { certificate } = JSON.parse((await ask('/api/health', { agent })).text) as HealthReply
    expect(certificate).toMatchObject({ isEnding: false, fault: null })
    const days = (certificate!.endsAt - headrace.clock.now()) / 86_400_000
    expect(days).toBeGreaterThan(89)
    expect(days).toBeLessThan(91)
  })

  it('takes a new certificate over and no broken one: open connections go on, the next ones see it', async () => {
    const socket = connect(headrace.url, {
      transports: ['websocket'],
      ca: files.ca as never,
      reconnection: false,
    })
    await new Promise<void>((resolve, reject) => {
      socket.once('connect', resolve)
      socket.once('connect_error', reject)
    })
    expect((await ask('/api/session', { agent })).shown).toBe('server')
    const next = makeCertificate(scratch.path, 'next')
    copyFileSync(next.certificate, files.certificate)
    copyFileSync(next.key, files.key)
    headrace.clock.advance(2000)
    const fresh = new Agent({ ca: next.ca })
    try {
      expect((await ask('/api/session', { agent: fresh })).shown).toBe('next')
      expect((await ask('/api/session', { agent })).shown).toBe('server')
      expect(socket.connected).toBe(true)
      copyFileSync(files.key, files.certificate)
      headrace.clock.advance(2000)
      const { certificate } = JSON.parse((await ask('/api/health', { agent: fresh })).text) as HealthReply
      // whoever is not signed in sees no name of a file
      expect(certificate?.fault).toBe('The newest files cannot be used; whoever is signed in sees why.')
      const signed = await ask('/api/session', {
        agent: fresh,
        body: { name: 'First', password: BENCH_PASSWORD },
      })
      const cookie = signed.headers['set-cookie']![0]!.split(';')[0]!
      const inside = JSON.parse((await ask('/api/health', { agent: fresh, cookie })).text) as HealthReply
      expect(inside.certificate?.fault).toContain('holds no certificate')
      expect(headrace.notices.at(-1)).toContain('The certificate from before is used on.')
      socket.disconnect()
    } finally {
      fresh.destroy()
    }
  })
})
