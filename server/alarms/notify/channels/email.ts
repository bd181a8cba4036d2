import { createTransport } from 'nodemailer'
import type { ChannelSetting } from '../settings.ts'
import type { Channel, Outcome } from './channel.ts'
import type { ChannelTools } from './channelTools.ts'

/** Silence of the server longer than this [ms] ends an attempt, at each stage. */
const ANSWER_LIMIT_MS = 15_000

type EmailSetting = Extract<ChannelSetting, { kind: 'email' }>

/** E-mail through an SMTP server (RFC 5321). */
export function emailChannel(
  setting: EmailSetting,
  { secret, answerLimitMs = ANSWER_LIMIT_MS }: ChannelTools,
): Channel | { fault: string } {
  const { id, host, port, security, user, from } = setting
  if (user !== undefined && secret === undefined)
    return { fault: `the e-mail channel "${id}" has a user and needs a password` }
  const transport = createTransport({
    host,
    port,
    secure: security === 'tls',
    requireTLS: security === 'startTls',
    ignoreTLS: security === 'none',
    ...(user === undefined ? {} : { auth: { user, pass: secret ?? '' } }),
    connectionTimeout: answerLimitMs,
    greetingTimeout: answerLimitMs,
    socketTimeout: answerLimitMs,
    dnsTimeout: answerLimitMs,
    disableFileAccess: true,
    disableUrlAccess: true,
  })
  return {
    id,
    kind: 'email',
    lanes: 3,
    provenBy: 'person',
    describe: (to) => shorten(to ?? ''),
    target: `${host}:${port}`,
    async send(message) {
      try {
        await transport.sendMail({
          from,
          to: message.recipient.to ?? '',
          subject: message.short,
          text: message.text,
          messageId: `<${message.id}@headrace.invalid>`,
          date: new Date(message.createdAt),
          priority: message.priority === 'high' ? 'high' : 'normal',
          // RFC 3834: no holiday notes in answer, please.
          headers: { 'Auto-Submitted': 'auto-generated' },
        })
        return { result: 'sent' }
      } catch (error) {
        return smtpOutcome(error)
      }
    },
    close: () => transport.close(),
  }
}

/**
 * 5xx is final, 4xx (greylisting, a full mailbox) and everything without an answer is tried again.
 *
 * Source: RFC 5321, 4.2.1 (transient and permanent negative completion).
 */
export function smtpOutcome(error: unknown): Outcome {
  const { responseCode, response, code, message } = error as Partial<SmtpFault>
  const said = response ?? message ?? 'no reason given'
  // The server's own words name no password; ours never do.
  const reason = `e-mail: ${said.replaceAll(/\s+/g, ' ').slice(0, 200)}`
  const isFinal = responseCode !== undefined ? responseCode >= 500 : code === 'EENVELOPE' || code === 'EAUTH'
  return isFinal ? { result: 'failed', reason } : { result: 'retry', reason }
}

interface SmtpFault {
  responseCode: number
  response: string
  code: string
  message: string
}

/** "anna@example.org" → "a…@example.org" */
function shorten(address: string): string {
  return address.replace(/^(.)[^@]*/, '$1…')
}
