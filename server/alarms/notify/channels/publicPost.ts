import { lookup } from 'node:dns'
import { request } from 'node:https'
import { isIP, type LookupFunction } from 'node:net'
import { isPublicAddress } from '../../../hosts.ts'
import type { PostOptions, SendResult } from './channel.ts'
import { postFault, resultOf } from './httpPost.ts'

/**
 * POST to an address that somebody typed or a browser gave: only by https and only to the internet, judged by the very
 * address that is connected to, so that no name can lead to this machine or its network.
 */
export function postToInternet(url: string, options: PostOptions): Promise<SendResult> {
  const { protocol, hostname } = new URL(url)
  const host = hostname.replace(/^\[|\]$/g, '')
  if (protocol !== 'https:' || (isIP(host) !== 0 && !isPublicAddress(host)))
    return Promise.resolve({ status: 'failed', reason: NOT_PUBLIC })
  const { headers, body, limitMs, now } = options
  return new Promise((resolve) => {
    const signal = AbortSignal.timeout(limitMs)
    const sent = request(url, { method: 'POST', headers, signal, lookup: publicLookup })
    sent.on('response', (response) => {
      resolve(resultOf(response.statusCode ?? 0, response.headers['retry-after'] ?? null, now))
      // Reading it would hand the receiver our time and memory.
      response.destroy()
    })
    sent.on('error', (error) => {
      if (error instanceof NotPublic) return resolve({ status: 'failed', reason: NOT_PUBLIC })
      const cause = signal.aborted ? signal.reason : new Error(error.message, { cause: error })
      resolve({ status: 'retry', reason: postFault(cause, limitMs) })
    })
    sent.end(body)
  })
}

const NOT_PUBLIC = 'the address does not lead to the internet; messages to browsers go nowhere else'

class NotPublic extends Error {}

/** As the usual one, but fails for a name with any address that is not public. */
export const publicLookup: LookupFunction = (hostname, options, answer) => {
  lookup(hostname, { ...options, all: true }, (error, found) => {
    const first = found?.[0]
    if (error || !first) return answer(error ?? new NotPublic(NOT_PUBLIC), [])
    if (!found.every(({ address }) => isPublicAddress(address))) return answer(new NotPublic(NOT_PUBLIC), [])
    if (options.all) answer(null, found)
    else answer(null, first.address, first.family)
  })
}
