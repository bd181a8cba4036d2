import { describe, expect, it } from 'vitest'
import { readRetryAfter } from '../../../../server/alarms/notify/channels/httpPost.ts'
import { readWebhookSecret, signWebhook } from '../../../../server/alarms/notify/channels/webhook.ts'

describe('the signature of a webhook', () => {
  it('is that of the worked value in the Standard Webhooks reference library', () => {
    // source: standard-webhooks/standard-webhooks, libraries/javascript/src/webhook.test.ts, "sign function works"
    const key = readWebhookSecret('whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw')!
    const content = {
      id: 'msg_p5jXN8AQM9LWM0D4loKWxJek',
      timestamp: 1_614_265_330,
      body: '{"test": 2432232314}',
    }
    expect(signWebhook(key, content)).toBe('v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=')
  })

  it.each(['', 'whsec_', 'whsec_dG9vc2hvcnQ=', 'whsec_not base64!', `whsec_${'A'.repeat(100)}`])(
    'is made with no key such as "%s"',
    (secret) => {
      expect(readWebhookSecret(secret)).toBeUndefined()
    },
  )
})

describe('Retry-After (RFC 9110, 10.2.3)', () => {
  const now = Date.parse('2026-11-25T14:00:00Z')
  it.each([
    ['120', 120_000],
    ['Wed, 25 Nov 2026 14:01:00 GMT', 60_000],
    ['Wed, 25 Nov 2026 13:00:00 GMT', 0],
    ['999999999', 6 * 3_600_000],
    ['soon', undefined],
    [null, undefined],
  ])('%s is a pause of %s ms', (text, pause) => {
    expect(readRetryAfter(text, now)).toBe(pause)
  })
})
