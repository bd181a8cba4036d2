import type { AddressInfo } from 'node:net'
import { SMTPServer } from 'smtp-server'

/** accept · away: 451 for everything · greylist: 451 at the first attempt for each recipient · refuse: 550 · stall: takes the mail and says nothing. */
export type MailBehaviour = 'accept' | 'away' | 'greylist' | 'refuse' | 'stall'

export interface MailServer {
  port: number
  /** Everything that was accepted, with headers. */
  mails: string[]
  attempts(): number
  behave(how: MailBehaviour): void
  close(): Promise<void>
}

/** A real SMTP server on a free port. */
export async function startMailServer(first: MailBehaviour = 'accept'): Promise<MailServer> {
  let how = first
  let attempts = 0
  const mails: string[] = []
  const seen = new Set<string>()
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS', 'AUTH'],
    closeTimeout: 50,
    onRcptTo({ address }, _session, done) {
      attempts++
      if (how === 'refuse') return done(answer(550, 'no such mailbox here'))
      if (how === 'away') return done(answer(451, 'not now'))
      if (how === 'greylist' && !seen.has(address)) {
        seen.add(address)
        return done(answer(451, 'greylisted, come back later'))
      }
      done()
    },
    onData(stream, _session, done) {
      const parts: Buffer[] = []
      stream.on('data', (part: Buffer) => parts.push(part))
      stream.on('end', () => {
        if (how === 'stall') return
        mails.push(Buffer.concat(parts).toString('utf8'))
        done()
      })
    },
  })
  server.on('error', () => {})
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return {
    port: (server.server.address() as AddressInfo).port,
    mails,
    attempts: () => attempts,
    behave(next) {
      how = next
    },
    close: () => new Promise((resolve) => server.close(() => resolve())),
  }
}

function answer(responseCode: number, message: string): Error {
  return Object.assign(new Error(message), { responseCode })
}
