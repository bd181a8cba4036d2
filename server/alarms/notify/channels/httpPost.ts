import { z } from 'zod'
import type { PostOptions, SendResult } from './channel.ts'

/** Field of the notification file: where to post to. */
export const webAddress = z
  .string()
  .refine((text) => URL.canParse(text) && /^https?:$/.test(new URL(text).protocol), {
    error: 'expected an address such as "https://receiver.example/alarms"',
  })

/** Longest pause [ms] that another side may ask for. */
const LONGEST_PAUSE_MS = 6 * 3_600_000

/**
 * What an HTTP answer means for a message: 2xx taken · 410 gone for good · everything else is tried again, for a
 * receiver that is being set up answers 404 or 500 today and 204 tomorrow.
 *
 * Source: Standard Webhooks specification, "Operational considerations" (410 disables, 429 and 503 throttle, a
 * redirect is a failure).
 */
export function resultOf(status: number, retryAfter: string | null, now: number): SendResult {
  if (status >= 200 && status < 300) return { status: 'sent' }
  if (status === 410)
    return { status: 'failed', reason: 'the receiver answered 410 Gone: it wants no more', disable: true }
  const reason = `the receiver answered ${status}`
  const afterMs = readRetryAfter(retryAfter, now)
  return { status: 'retry', reason, ...(afterMs === undefined ? {} : { afterMs }) }
}

/** Seconds or a date (RFC 9110, 10.2.3) → pause [ms]; undefined where it is neither. */
export function readRetryAfter(text: string | null, now: number): number | undefined {
  if (text === null) return undefined
  const isSeconds = /^\d{1,9}$/.test(text.trim())
  const pause = isSeconds ? Number(text) * 1000 : Date.parse(text) - now
  return Number.isFinite(pause) ? Math.min(LONGEST_PAUSE_MS, Math.max(0, pause)) : undefined
}

/** POST with a limit on time; a redirect is not followed, and of the answer only status and one header are read. */
export async function postOnce(
  url: string,
  { headers, body, limitMs, now }: PostOptions,
): Promise<SendResult> {
  try {
    const response = await fetch(url, {
      method: 'POST',
      headers,
      body,
      redirect: 'manual',
      signal: AbortSignal.timeout(limitMs),
    })
    // Reading it would hand the receiver our time and memory.
    void response.body?.cancel().catch(() => {})
    return resultOf(response.status, response.headers.get('retry-after'), now)
  } catch (error) {
    return { status: 'retry', reason: postFault(error, limitMs) }
  }
}

export function postFault(error: unknown, limitMs: number): string {
  if (!(error instanceof Error)) return 'the receiver could not be reached'
  if (error.name === 'TimeoutError') return `the receiver did not answer within ${limitMs / 1000} s`
  const cause = error.cause
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : error.message
  return `the receiver could not be reached (${code})`
}
