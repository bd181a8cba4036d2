import { createECDH, randomBytes } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import type { Outgoing } from '../../../../server/alarms/notify/channels/channel.ts'
import { postOnce } from '../../../../server/alarms/notify/channels/httpPost.ts'
import { webPushChannel } from '../../../../server/alarms/notify/channels/webPush.ts'
import { createNotifyMemory } from '../../../../server/alarms/notify/notifyMemory.ts'
import { createSubscriptions } from '../../../../server/alarms/notify/subscriptions.ts'
import { startHookServer } from '../../../support/hookServer.ts'
import { memoryBroker } from '../../../support/memoryBroker.ts'
import { scratchState, WEDNESDAY } from '../../../support/notifyBench.ts'

const message: Outgoing = {
  delivery: {
    id: 'hr_1',
    incident: 'mill/over/1',
    kind: 'raised',
    priority: 'high',
    plant: 'mill',
    alarm: 'over',
    channel: 'push',
    step: 0,
    createdAt: WEDNESDAY,
    dueAt: WEDNESDAY,
    message: { short: 'Upper mill: Over-speed', lines: [] },
    recipient: 'anna',
  },
  text: '',
  pageUrl: undefined,
  acknowledgeUrl: 'https://plant.example/acknowledge/x',
  recipient: { id: 'anna', name: 'Anna', to: undefined },
}

/** Keys as a browser makes them (RFC 8291, 3.1 and 3.2). */
function browserKeys() {
  const ecdh = createECDH('prime256v1')
  return { p256dh: ecdh.generateKeys('base64url'), auth: randomBytes(16).toString('base64url') }
}

describe('messages to browsers', () => {
  it('go encrypted to each browser of the recipient, and forget those that are gone', async () => {
    const state = scratchState()
    const subscriptions = createSubscriptions(createNotifyMemory(state))
    const hook = await startHookServer({ status: 201 })
    const tools = {
      secret: undefined,
      now: () => WEDNESDAY,
      broker: memoryBroker(),
      subscriptions,
      postToBrowser: postOnce,
    }
    const channel = webPushChannel({ id: 'push', kind: 'webPush', contact: 'mailto:a@plant.example' }, tools)
    expect(await channel.send(message)).toMatchObject({
      status: 'failed',
      reason: expect.stringContaining('no browser'),
    })
    subscriptions.add('anna', { endpoint: hook.url, keys: browserKeys() })
    expect(await channel.send(message)).toEqual({ status: 'sent' })
    const { headers, body } = hook.requests[0]!
    expect(headers).toMatchObject({ 'content-encoding': 'aes128gcm', urgency: 'high' })
    expect(headers.authorization).toMatch(/^vapid t=/)
    expect(body).not.toContain('Over-speed')
    hook.answerWith({ status: 410 })
    expect(await channel.send(message)).toMatchObject({ status: 'failed' })
    expect(subscriptions.of('anna')).toEqual([])
    await hook.close()
    state.close()
  })

  it('go only to the internet, whatever address or name a browser gave', async () => {
    const state = scratchState()
    const subscriptions = createSubscriptions(createNotifyMemory(state))
    const tools = { secret: undefined, now: () => WEDNESDAY, broker: memoryBroker(), subscriptions }
    const channel = webPushChannel({ id: 'push', kind: 'webPush', contact: 'mailto:a@plant.example' }, tools)
    const inside = [
      'https://127.0.0.1:9/',
      'https://[::1]:9/',
      'https://169.254.169.254/',
      'http://192.0.2.1/',
    ]
    for (const endpoint of [...inside, 'https://localhost:9/']) {
      subscriptions.add('anna', { endpoint, keys: browserKeys() })
      expect(await channel.send(message), endpoint).toMatchObject({ status: 'failed' })
    }
    state.close()
  })

  it('are signed with one pair of keys for good', () => {
    const state = scratchState()
    const first = createSubscriptions(createNotifyMemory(state)).serverKeys()
    expect(createSubscriptions(createNotifyMemory(state)).serverKeys()).toEqual(first)
    state.close()
  })
})
