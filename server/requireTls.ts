import { readNotifyFile } from './alarms/notify/notifyFile.ts'
import type { NotifySettings } from './alarms/notify/settings.ts'
import { isLoopback } from './hosts.ts'
import type { Options } from './options.ts'
import { StartRefused } from './state/openState.ts'

type Lines = Pick<Options, 'httpHost' | 'mqttHost' | 'mqttUrl' | 'tlsCertificate' | 'publicUrl'>

/** --require-tls. @throws {StartRefused} with a sentence for each line to another machine that would be plain text. */
export function refusePlainLines(options: Lines & Pick<Options, 'requireTls' | 'notify'>): void {
  if (!options.requireTls) return
  const plain = plainLines(options, readNotifyFile(options.notify))
  if (plain.length > 0) throw new StartRefused(plain.map((line) => `--require-tls: ${line}`).join('\n'))
}

/** What would go to or come from other machines without TLS, and what to do. Lines within this machine are left alone. */
export function plainLines(options: Lines, notify: Pick<NotifySettings, 'channels' | 'heartbeat'>): string[] {
  const { httpHost, mqttHost, mqttUrl, tlsCertificate, publicUrl } = options
  const isBare = (host: string) => tlsCertificate === null && !isLoopback(host)
  return [
    isBare(httpHost) &&
      `the page on ${httpHost} would be plain text; give --tls-certificate and --tls-key, or let a proxy with HTTPS on this machine serve it from 127.0.0.1.`,
    mqttUrl === null &&
      isBare(mqttHost) &&
      `the broker on ${mqttHost} would be plain text; give --tls-certificate and --tls-key.`,
    mqttUrl !== null &&
      isPlain(mqttUrl) &&
      `the broker of --mqtt-url would be reached in plain text; expected mqtts://.`,
    publicUrl !== null && isPlain(publicUrl) && `--public-url is ${publicUrl}; expected https://.`,
    ...notify.channels.map(plainChannel),
    notify.heartbeat !== undefined &&
      'url' in notify.heartbeat &&
      isPlain(notify.heartbeat.url) &&
      'the heartbeat of the notification file goes to an http:// address; expected https://.',
  ].filter((line) => typeof line === 'string')
}

function plainChannel(channel: NotifySettings['channels'][number]): string | false {
  const where = `the channel "${channel.id}" of the notification file`
  if (channel.kind === 'email')
    return (
      channel.security === 'none' &&
      !isLoopback(channel.host) &&
      `${where} sends mail in plain text; expected startTls or tls.`
    )
  return (
    channel.kind === 'webhook' &&
    isPlain(channel.url) &&
    `${where} goes to an http:// address; expected https://.`
  )
}

function isPlain(url: string): boolean {
  const { protocol, hostname } = new URL(url)
  return (protocol === 'http:' || protocol === 'mqtt:') && !isLoopback(hostname.replace(/^\[|\]$/g, ''))
}
