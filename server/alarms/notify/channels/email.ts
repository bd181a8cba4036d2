import { createTransport } from 'nodemailer'
import { z } from 'zod'
import { idField } from '../../../plant/fields.ts'
import { deliveryId } from '../delivery.ts'
import type { Channel, ChannelTools, SendResult } from './channel.ts'

/** Silence of the server longer than this [ms] ends an attempt, at each stage. */
const ANSWER_LIMIT_MS = 15_000

export const emailFields = z.strictObject({
  id: idField,
  kind: z.literal('email'),
  host: z.string().min(1).max(253),
  port: z.int().min(1).max(65_535).default(587),
  /** startTls: required, not just tried. none: only towards a server on this machine or a network that is trusted. */
  security: z.enum(['startTls', 'tls', 'none']).default('startTls'),
  user: z.string().max(200).optional(),
  from: z.email({ error: 'expected the e-mail address that messages come from' }),
})

/** E-mail through an SMTP server (RFC 5321). */
export function emailChannel(
  setting: z.output<typeof emailFields>,
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
    async send({ delivery, recipient, text }) {
      try {
        await transport.sendMail({
          from,
          to: recipient.to ?? '',
          subject: delivery.message.short,
          text,
          messageId: `<${delivery.id}@headrace.invalid>`,
          date: new Date(delivery.createdAt),
          priority: delivery.priority === 'high' ? 'high' : 'normal',
          // RFC 3834: no holiday notes in answer, please.
          headers: { 'Auto-Submitted': 'auto-generated' },
          // RFC 5322, 3.6.4: what is of one event stands together in the mailbox.
          references: `<${deliveryId([delivery.incident])}@headrace.invalid>`,
        })
        return { status: 'sent' }
      } catch (error) {
        return smtpResult(error)
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
export function smtpResult(error: unknown): SendResult {
  const { responseCode, response, code, message } = error as Partial<SmtpFault>
  const said = response ?? message ?? 'no reason given'
  // The server's own words name no password; ours never do.
  const reason = `e-mail: ${said.replaceAll(/\s+/g, ' ').slice(0, 200)}`
  const isFinal = responseCode !== undefined ? responseCode >= 500 : code === 'EENVELOPE' || code === 'EAUTH'
  return isFinal ? { status: 'failed', reason } : { status: 'retry', reason }
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
