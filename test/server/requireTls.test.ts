import { describe, expect, it } from 'vitest'
import { readOptions } from '../../server/options.ts'
import { plainLines, refusePlainLines } from '../../server/requireTls.ts'
import { scratchFolder } from '../support/scratch.ts'

// OWASP ASVS 5.0.0, V12.2.1, V12.3.1 and V4.4.1: TLS on every line that leaves the machine, with no way back to plain text.
describe('--require-tls', () => {
  const refusal = (...args: string[]) => {
    try {
      refusePlainLines(readOptions(args, {}))
      return []
    } catch (error) {
      return (error as Error).message.split('\n')
    }
  }

  it('refuses to start with any line of plain text to another machine, and names all of them', () => {
    const open = ['--http-host', '0.0.0.0', '--mqtt-host', '::', '--public-url', 'http://plant.example']
    expect(refusal('--require-tls', ...open)).toEqual([
      expect.stringMatching(
        /^--require-tls: the page on 0\.0\.0\.0 would be plain text; give --tls-certificate/,
      ),
      expect.stringMatching(/^--require-tls: the broker on :: would be plain text/),
      expect.stringMatching(/^--require-tls: --public-url is http:\/\/plant\.example; expected https/),
    ])
    expect(refusal('--require-tls', '--mqtt-url', 'mqtt://192.0.2.10')).toHaveLength(1)
    expect(refusal(...open)).toEqual([])
  })

  it('takes TLS everywhere, and lines within this machine', () => {
    const pair = ['--tls-certificate', 'a.pem', '--tls-key', 'b.pem']
    expect(refusal('--require-tls', '--http-host', '0.0.0.0', '--mqtt-host', '0.0.0.0', ...pair)).toEqual([])
    expect(refusal('--require-tls', '--mqtt-url', 'mqtts://192.0.2.10')).toEqual([])
    expect(refusal('--require-tls', '--mqtt-url', 'mqtt://[::1]:1883')).toEqual([])
    expect(refusal('--require-tls', '--page-name', 'plant.example')).toEqual([])
  })

  it('a certificate of its own does not make a foreign broker or a message safe', () => {
    const options = readOptions(
      ['--tls-certificate', 'a', '--tls-key', 'b', '--mqtt-url', 'mqtt://192.0.2.10'],
      {},
    )
    const notify = {
      channels: [
        {
          id: 'mail',
          kind: 'email',
          host: 'mail.example',
          port: 25,
          security: 'none',
          from: 'a@mill.example',
        },
        { id: 'local', kind: 'email', host: '127.0.0.1', port: 25, security: 'none', from: 'a@mill.example' },
        { id: 'hook', kind: 'webhook', url: 'http://receiver.example/alarms' },
        { id: 'safe', kind: 'webhook', url: 'https://receiver.example/alarms' },
      ] as Parameters<typeof plainLines>[1]['channels'],
      heartbeat: { url: 'http://receiver.example/alive', period: 60_000 },
    }
    expect(plainLines(options, notify).join('\n')).toMatch(/mqtts:.*\n.*"mail".*\n.*"hook".*\n.*heartbeat/)
    expect(plainLines(options, notify)).toHaveLength(4)
  })

  it('reads the notification file for it', () => {
    const scratch = scratchFolder()
    const file = scratch.file(
      'notify.yaml',
      'headraceNotify: 1\ntimeZone: UTC\nchannels:\n  - { id: hook, kind: webhook, url: "http://192.0.2.3/in" }\n',
    )
    expect(refusal('--require-tls', '--notify', file)).toEqual([expect.stringContaining('"hook"')])
    scratch.remove()
  })
})
