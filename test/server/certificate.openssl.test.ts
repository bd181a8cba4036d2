import { execFileSync } from 'node:child_process'
import { copyFileSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Certificate, openCertificate } from '../../server/certificate.ts'
import { type CertificateFiles, makeCertificate } from '../support/certificates.ts'
import { type ManualClock, manualClock } from '../support/manualClock.ts'
import { scratchFolder } from '../support/scratch.ts'

const DAY_MS = 86_400_000

describe('the certificate of page and broker', () => {
  let scratch: ReturnType<typeof scratchFolder>
  let clock: ManualClock
  let files: CertificateFiles
  let told: string[]
  let opened: Certificate | undefined

  beforeEach(() => {
    scratch = scratchFolder()
    clock = manualClock(Date.now())
    told = []
    files = makeCertificate(scratch.path, 'server')
  })
  afterEach(() => {
    opened?.close()
    scratch.remove()
  })

  const open = (given: { tlsCertificate?: string | null; tlsKey?: string | null } = {}) => {
    const options = { tlsCertificate: files.certificate, tlsKey: files.key, ...given }
    opened = openCertificate(options, { clock, tell: (text) => told.push(text) })
    return opened!
  }

  /** What openssl itself says of the end. */
  function endOf(certificate: string): number {
    const text = execFileSync('openssl', ['x509', '-enddate', '-noout', '-in', certificate], {
      encoding: 'utf8',
    })
    return Date.parse(text.replace('notAfter=', ''))
  }

  it('is none where no file is named', () => {
    expect(open({ tlsCertificate: null, tlsKey: null })).toBeUndefined()
  })

  it('ends when openssl says that it ends, and says nothing on the console while that is far', () => {
    expect(open().health()).toEqual({ endsAt: endOf(files.certificate), isEnding: false, fault: null })
    expect(told).toEqual([])
  })

  it('ends with whichever of a chain ends first', () => {
    const early = makeCertificate(scratch.path, 'early', 30)
    writeFileSync(files.certificate, `${readFileSync(files.certificate)}${early.ca}`)
    expect(open().health().endsAt).toBe(endOf(early.certificate))
  })

  it('warns from 14 days before its end on, each day', () => {
    const { endsAt } = open().health()
    clock.sleep(endsAt - clock.now() - 14 * DAY_MS - 1)
    expect(opened!.health().isEnding).toBe(false)
    clock.advance(1)
    expect(opened!.health().isEnding).toBe(true)
    told.length = 0
    clock.advance(2 * DAY_MS)
    expect(told).toHaveLength(2)
    expect(told[0]).toContain(`ends on ${new Date(endsAt).toISOString().slice(0, 10)}`)
  })

  it.each([
    ['a certificate without a key', { tlsKey: null }, /belong together/],
    ['a key without a certificate', { tlsCertificate: null }, /belong together/],
    ['a file that is not there', { tlsKey: '/nowhere/key.pem' }, /nowhere\/key\.pem cannot be read: ENOENT/],
    ['a certificate that is none', { tlsCertificate: 'text' }, /text holds no certificate/],
    ['a certificate that is damaged', { tlsCertificate: 'damaged' }, /damaged holds no certificate/],
    ['a key that is none', { tlsKey: 'text' }, /text holds no private key/],
    ['a key with a passphrase', { tlsKey: 'locked' }, /locked holds no private key.*without a passphrase/],
    [
      'the key of another certificate',
      { tlsKey: 'other.key' },
      /other\.key does not belong to the certificate/,
    ],
  ])('is refused at the start in a sentence: %s', (_what, given, sentence) => {
    const path = (name: string) => `${scratch.path}/${name}`
    makeCertificate(scratch.path, 'other')
    writeFileSync(path('text'), 'hello')
    writeFileSync(path('damaged'), '-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n')
    const lock = ['ec', '-in', files.key, '-aes128', '-passout', 'pass:secret', '-out', path('locked')]
    execFileSync('openssl', lock, { stdio: 'pipe' })
    const named = Object.fromEntries(
      Object.entries(given).map(([key, file]) => [key, file?.startsWith('/') ? file : file && path(file)]),
    )
    expect(() => open(named)).toThrow(sentence)
  })

  it('is taken over from changed files while everything runs', () => {
    const taken: string[] = []
    open().onChange(({ cert }) => taken.push(cert))
    const next = makeCertificate(scratch.path, 'next', 200)
    copyFileSync(next.certificate, files.certificate)
    copyFileSync(next.key, files.key)
    clock.advance(2000)
    expect(taken).toEqual([next.ca.toString()])
    expect(opened!.pair().key).toBe(readFileSync(next.key, 'utf8'))
    expect(opened!.health()).toEqual({ endsAt: endOf(next.certificate), isEnding: false, fault: null })
    expect(told).toEqual([expect.stringContaining('A new certificate is used')])
  })

  it.each([
    [
      'a pair that does not belong together',
      () => copyFileSync(makeOther().certificate, files.certificate),
      /does not belong/,
    ],
    ['a file that is broken', () => writeFileSync(files.key, 'half a k'), /no private key/],
    ['a file that is gone', () => rmSync(files.key), /cannot be read/],
  ])(
    'stays where the new files are %s, is told so, and changes once they are right',
    (_what, spoil, fault) => {
      const before = open().pair()
      spoil()
      clock.advance(6000)
      expect(opened!.pair()).toEqual(before)
      expect(opened!.health().fault).toMatch(fault)
      expect(told).toEqual([expect.stringMatching(fault)])
      const next = makeOther()
      copyFileSync(next.certificate, files.certificate)
      copyFileSync(next.key, files.key)
      clock.advance(2000)
      expect(opened!.health().fault).toBeNull()
      expect(opened!.pair().cert).toBe(next.ca.toString())
    },
  )

  function makeOther(): CertificateFiles {
    return makeCertificate(scratch.path, 'other')
  }
})
