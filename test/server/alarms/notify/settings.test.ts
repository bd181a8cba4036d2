import { chmodSync, writeFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openChannel } from '../../../../server/alarms/notify/channels/index.ts'
import { readableByOthers, readNotifyFile, readSecrets } from '../../../../server/alarms/notify/notifyFile.ts'
import { memoryBroker } from '../../../support/memoryBroker.ts'
import { settingsOf, THREE_PEOPLE } from '../../../support/notifyBench.ts'
import { scratchFolder } from '../../../support/scratch.ts'

const scratch = scratchFolder()
const read = (text: string) => readNotifyFile(scratch.file('notify.yaml', text))

describe('the notification file', () => {
  it('reports every fault with its line, what stood there and what was expected', () => {
    const text = `headraceNotify: 1
timeZone: Europe/Nowhere
channels:
  - { id: mail, kind: email, host: mx.example, from: headrace@plant.example }
recipients:
  - { id: anna, name: Anna, by: [{ channel: mail }] }
rules:
  - to: [zoe]
    quietHours: { from: '25:00', to: '07:00' }
`
    expect(() => read(text)).toThrow(
      /notify\.yaml:2: timeZone: found "Europe\/Nowhere", expected an IANA time zone/,
    )
    expect(() => read(text)).toThrow(
      /notify\.yaml:9: rules\[0\]\.quietHours\.from: found "25:00", expected a time of day/,
    )
  })

  it('finds names that lead nowhere, twins and missing addresses', () => {
    const text = `headraceNotify: 1
timeZone: UTC
channels:
  - { id: mail, kind: email, host: mx.example, from: headrace@plant.example }
  - { id: mail, kind: mqtt }
recipients:
  - { id: anna, name: Anna, by: [{ channel: mail }, { channel: post }] }
rules:
  - to: [zoe]
`
    expect(() => read(text)).toThrow(/channels\[1\]\.id: found "mail", expected an id that is not used above/)
    expect(() => read(text)).toThrow(
      /recipients\[0\]\.by\[0\]\.to: found nothing, expected an e-mail address/,
    )
    expect(() => read(text)).toThrow(
      /recipients\[0\]\.by\[1\]\.channel: found "post", expected one of the channels/,
    )
    expect(() => read(text)).toThrow(
      /notify\.yaml:9: rules\[0\]\.to\[0\]: found "zoe", expected one of the recipients anna/,
    )
  })

  it('has no place for a password', () => {
    const text = `headraceNotify: 1\ntimeZone: UTC\nchannels: [{ id: m, kind: email, host: h, from: a@b.example, password: x }]\n`
    expect(() => read(text)).toThrow(/the key "password"/)
  })
})

describe('secrets', () => {
  it('come from the environment before the file, and no complaint repeats them', () => {
    const file = scratch.file('secrets.yaml', 'mail: from-file\nbus-2: other\n')
    const secrets = readSecrets(file, { HEADRACE_NOTIFY_SECRET_BUS_2: 'from-environment' })
    expect([secrets('mail'), secrets('bus-2'), secrets('none')]).toEqual([
      'from-file',
      'from-environment',
      undefined,
    ])
    writeFileSync(file, 'hunter2')
    expect(() => readSecrets(file, {})).toThrow(/expected one line for each channel/)
    expect(() => readSecrets(file, {})).not.toThrow(/hunter2/)
  })

  it('are warned of where other accounts of the machine may read them', () => {
    const file = scratch.file('open.yaml', 'mail: x\n')
    chmodSync(file, 0o644)
    expect(readableByOthers(file)).toMatch(/other accounts of this machine may read it: chmod 600/)
    chmodSync(file, 0o600)
    expect(readableByOthers(file)).toBeUndefined()
  })

  it('are asked for where a channel cannot do without', () => {
    const tools = {
      secret: undefined,
      now: Date.now,
      broker: memoryBroker(),
      subscriptions: {
        of: () => [],
        add: () => {},
        remove: () => {},
        serverKeys: () => ({ publicKey: '', privateKey: '' }),
      },
    }
    const mail = settingsOf(THREE_PEOPLE.replace('security: none', 'security: none, user: headrace'))
      .channels[0]!
    expect(openChannel(mail, tools)).toEqual({ fault: expect.stringContaining('needs a password') })
    expect(
      openChannel(
        { id: 'hook', kind: 'webhook', url: 'http://x.example/' },
        { ...tools, secret: 'whsec_dG9vc2hvcnQ=' },
      ),
    ).toEqual({
      fault: expect.stringContaining('24 to 64 random bytes'),
    })
  })
})
