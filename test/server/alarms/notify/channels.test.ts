import { createHmac } from 'node:crypto'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type HookServer, startHookServer } from '../../../support/hookServer.ts'
import { type MailServer, startMailServer } from '../../../support/mailServer.ts'
import { type NotifyRig, notifyRig } from '../../../support/notifyRig.ts'

const KEY = Buffer.alloc(32, 7)
const SECRET = `whsec_${KEY.toString('base64')}`
const S = 1000

describe('alarm messages over real servers', { timeout: 90_000 }, () => {
  let mail: MailServer
  let hook: HookServer
  let rig: NotifyRig

  const yaml = () => `
channels:
  - { id: mail, kind: email, host: 127.0.0.1, port: ${mail.port}, from: headrace@plant.example, security: none }
  - { id: desk, kind: webhook, url: '${hook.url}' }
  - { id: bus, kind: mqtt }
recipients:
  - { id: anna, name: Anna, by: [{ channel: mail, to: anna@plant.example }, { channel: desk }, { channel: bus }] }
rules:
  - { priorities: [high, medium, low], to: [anna] }
`

  beforeEach(async () => {
    mail = await startMailServer()
    hook = await startHookServer()
    rig = notifyRig(yaml(), { secrets: () => SECRET })
  })

  afterEach(async () => {
    await rig.close()
    await mail.close()
    await hook.close()
    rig.state.close()
  })

  const over = (channel: string) => rig.deliveries('raised').find((one) => one.channel === channel)!
  const settled = (channel: string, fits: (one: ReturnType<typeof over>) => boolean) =>
    rig.until(() => over(channel) !== undefined && fits(over(channel)))

  it('arrive by mail, webhook and MQTT within one round, each with its stable id', async () => {
    rig.speed(1770)
    await rig.until((all) => all.length === 3 && all.every((one) => one.status === 'sent'))
    expect(mail.mails[0]).toContain(`Message-ID: <${over('mail').id}@headrace.invalid>`)
    expect(mail.mails[0]).toContain('Auto-Submitted: auto-generated')
    expect(hook.requests[0]!.headers['webhook-id']).toBe(over('desk').id)
    const [published] = rig.broker.published
    expect(published!.topic).toBe('headrace/mill/notifications')
    expect(JSON.parse(published!.payload)).toMatchObject({ data: { id: over('bus').id, alarm: 'over' } })
    expect(JSON.parse(published!.payload).data.short).toBe(
      'Upper mill: Over-speed 1770 min⁻¹ at 14:00:00 GMT. Shut the inlet valve by hand.',
    )
  })

  it('are signed over the very bytes that are sent', async () => {
    rig.speed(1770)
    await settled('desk', (one) => one.status === 'sent')
    const { headers, body } = hook.requests[0]!
    const content = `${headers['webhook-id']}.${headers['webhook-timestamp']}.${body}`
    const expected = createHmac('sha256', KEY).update(content).digest('base64')
    expect(headers['webhook-signature']).toBe(`v1,${expected}`)
  })

  it('are tried again after greylisting (451) with the same id', async () => {
    mail.behave('greylist')
    rig.speed(1770)
    await settled('mail', (one) => one.attempts === 1)
    expect(over('mail')).toMatchObject({ status: 'waiting', reason: expect.stringContaining('451') })
    await rig.pass(6 * S)
    await settled('mail', (one) => one.status === 'sent')
    expect(mail.attempts()).toBe(2)
  })

  it('fail for good at 550, and the reason is shown', async () => {
    mail.behave('refuse')
    rig.speed(1770)
    await settled('mail', (one) => one.status === 'failed')
    expect(over('mail').reason).toContain('550 no such mailbox here')
    await rig.pass(1800 * S, 50)
    expect(mail.attempts()).toBe(1)
    expect(rig.notify.view().paths.find((one) => one.channel === 'mail')!.failure).toContain('550')
  })

  it('over one channel are not held up by another that takes them and never answers', async () => {
    mail.behave('stall')
    rig.speed(1770)
    rig.power(0.5)
    await rig.pass(100)
    await rig.until((all) =>
      all.filter((one) => one.channel === 'desk').every((one) => one.status === 'sent'),
    )
    expect(rig.deliveries().filter((one) => one.channel === 'desk')).toHaveLength(2)
    expect(rig.deliveries().filter((one) => one.channel === 'mail' && one.status === 'sent')).toEqual([])
    // what stalls is given up after its time-out and waits for another attempt
    await rig.until((all) => all.some((one) => one.channel === 'mail' && one.attempts >= 1))
  })

  it('wait as long as the receiver asks for with Retry-After', async () => {
    hook.answerWith({ status: 429, headers: { 'retry-after': '120' } })
    rig.speed(1770)
    await settled('desk', (one) => one.attempts === 1)
    hook.answerWith({ status: 204 })
    await rig.pass(119 * S - 100, 20)
    expect(hook.requests).toHaveLength(1)
    await rig.pass(2 * S)
    await settled('desk', (one) => one.status === 'sent')
    expect(hook.requests[1]!.headers['webhook-id']).toBe(hook.requests[0]!.headers['webhook-id'])
  })

  it('are tried again after an answer of 500 and after none, more and more seldom, until they are given up', async () => {
    hook.answerWith({ status: 500 })
    rig.speed(1770)
    await settled('desk', (one) => one.reason === 'the receiver answered 500')
    hook.answerWith('hang')
    await rig.pass(6 * S)
    await settled('desk', (one) => one.attempts === 2)
    expect(over('desk').reason).toBe('the receiver did not answer within 2.5 s')
    await hook.close()
    for (let i = 0; i < 12; i++) {
      const { attempts } = over('desk')
      await rig.pass(over('desk').dueAt - rig.clock.now() + S)
      await settled('desk', (one) => one.attempts > attempts || one.status === 'failed')
    }
    expect(over('desk')).toMatchObject({ status: 'failed', reason: expect.stringContaining('ECONNREFUSED') })
  })

  it('are no longer sent to a receiver that is gone (410), which is said, until a person switches it on again', async () => {
    hook.answerWith({ status: 410 })
    rig.speed(1770)
    await settled('desk', (one) => one.status === 'failed')
    const channel = () => rig.notify.view().channels.find((one) => one.id === 'desk')!
    expect(channel().disabled).toMatch(/410 Gone/)
    rig.speed(1500)
    rig.speed(1770)
    await rig.until(
      (all) => all.filter((one) => one.channel === 'desk' && one.status === 'failed').length === 2,
    )
    expect(hook.requests).toHaveLength(1)
    hook.answerWith({ status: 204 })
    rig.notify.enable('desk')
    expect(channel().disabled).toBeNull()
    rig.speed(1500)
    rig.speed(1770)
    await rig.until((all) => all.some((one) => one.channel === 'desk' && one.status === 'sent'))
  })

  it('follow no redirect', async () => {
    const other = await startHookServer()
    hook.answerWith({ status: 307, headers: { location: other.url } })
    rig.speed(1770)
    await settled('desk', (one) => one.attempts === 1)
    expect(over('desk').reason).toBe('the receiver answered 307')
    expect(other.requests).toEqual([])
    await other.close()
  })

  it('name no secret and no address in full anywhere in the reply', async () => {
    rig.speed(1770)
    await rig.until((all) => all.every((one) => one.status === 'sent'))
    const reply = JSON.stringify(rig.notify.view())
    expect(reply).not.toContain(SECRET.slice(6, 20))
    expect(reply).not.toContain('anna@plant.example')
    expect(reply).not.toContain('/alarms')
    expect(reply).toContain('a…@plant.example')
  })
})
