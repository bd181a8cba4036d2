import type { IncomingMessage } from 'node:http'
import type { TLSSocket } from 'node:tls'

/** Browsers take a name with this prefix only from HTTPS, with Secure and Path=/. */
const SECURE_NAME = '__Host-headrace-seat'
const PLAIN_NAME = 'headrace-seat'

export function readSeatToken({ headers }: IncomingMessage): string | undefined {
  const pairs = (headers.cookie ?? '').split(';').map((pair) => pair.trim())
  const held = (name: string) =>
    pairs.find((pair) => pair.startsWith(`${name}=`))?.slice(name.length + 1) || undefined
  return held(SECURE_NAME) ?? held(PLAIN_NAME)
}

/** The Set-Cookie line that gives a browser its seat, or with an empty token takes it away. */
export function seatCookie(request: IncomingMessage, token: string, lifetimeMs: number): string {
  const isSecure =
    (request.socket as TLSSocket).encrypted === true || request.headers['x-forwarded-proto'] === 'https'
  return [
    `${isSecure ? SECURE_NAME : PLAIN_NAME}=${token}`,
    'Path=/',
    'HttpOnly',
    'SameSite=Strict',
    `Max-Age=${token === '' ? 0 : Math.floor(lifetimeMs / 1000)}`,
    ...(isSecure ? ['Secure'] : []),
  ].join('; ')
}
