import type { Server } from 'node:http'
import { Server as HttpsServer } from 'node:https'
import type { AddressInfo } from 'node:net'
import type { Options } from '../options.ts'
import { StartRefused } from '../state/openState.ts'

/** @returns the address of the page. @throws {StartRefused} with a sentence where it cannot be served. */
export function listen(
  http: Server,
  { httpHost, httpPort }: Pick<Options, 'httpHost' | 'httpPort'>,
): Promise<string> {
  const host = httpHost.includes(':') ? `[${httpHost}]` : httpHost
  return new Promise((resolve, reject) => {
    http.once('error', (error: NodeJS.ErrnoException) => reject(refusal(error, httpHost, httpPort)))
    const scheme = http instanceof HttpsServer ? 'https' : 'http'
    http.listen(httpPort, httpHost, () =>
      resolve(`${scheme}://${host}:${(http.address() as AddressInfo).port}`),
    )
  })
}

function refusal(error: NodeJS.ErrnoException, host: string, port: number): Error {
  if (error.code === 'EADDRINUSE')
    return new StartRefused(`Port ${port} on ${host} is already in use. Choose another with --http-port.`)
  if (error.code === 'EACCES')
    return new StartRefused(
      `Port ${port} on ${host} may not be used by this account. Choose another with --http-port.`,
    )
  return new StartRefused(`The page cannot be served on ${host}:${port}: ${error.message}.`)
}
