import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import express from 'express'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { AuditLine } from '../../../server/access/audit.ts'
import { notifyAnswers } from '../../../server/answers.ts'
import type { Answers, Ask } from '../../../server/channel/questions.ts'
import { ackRouter } from '../../../server/http/ackRouter.ts'
import { type HookServer, startHookServer } from '../../support/hookServer.ts'
import { type NotifyRig, notifyRig } from '../../support/notifyRig.ts'

const yaml = (hookUrl: string) => `
channels: [{ id: bus, kind: webhook, url: "${hookUrl}" }]
recipients:
  - { id: anna, name: Anna <b>, by: [{ channel: bus }] }
  - { id: bert, name: Bert, by: [{ channel: bus }] }
rules: [{ to: [anna], ladder: [{ after: 10 min, to: [bert] }] }]
linkValid: 1 h
`

const SECRET = `whsec_${Buffer.alloc(24, 1).toString('base64')}`

describe('the link in a message', () => {
  let rig: NotifyRig
  let hook: HookServer
  let server: Server
  let base: string
  let audited: AuditLine[]

  beforeEach(async () => {
    hook = await startHookServer()
    rig = notifyRig(yaml(hook.url), { secrets: () => SECRET })
    const answers = notifyAnswers(rig.notify) as Partial<Answers>
    const ask: Ask = async (question, asked) => answers[question]!(asked)
    server = createServer(express().use(ackRouter(ask, { record: (line) => audited.push(line) })))
    audited = []
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
    base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
    rig.speed(1770)
    await rig.pass(1000)
    await rig.until((sent) => sent.some((one) => one.status === 'sent'))
  })
  afterEach(async () => {
    await new Promise((resolve) => server.close(resolve))
    await rig.close()
    await hook.close()
    rig.state.close()
  })

  /** The address in the n-th message, at this test's server. */
  const link = (n = 0) => {
    const { acknowledgeUrl } = JSON.parse(hook.requests[n]!.body).data
    expect(acknowledgeUrl).toMatch(/^https:\/\/plant\.example\/acknowledge\//)
    return base + new URL(acknowledgeUrl).pathname
  }
  const open = async (url: string) => {
    const response = await fetch(url)
    return { status: response.status, headers: response.headers, page: await response.text() }
  }
  /** Presses the button of a page as a browser without script does. */
  const press = (url: string, page: string) => {
    const raisedAt = /name="raisedAt" value="(\d+)"/.exec(page)![1]!
    return fetch(url, { method: 'POST', body: new URLSearchParams({ raisedAt }) }).then((answer) =>
      answer.text(),
    )
  }
  const over = () => rig.live.board.views().find((one) => one.id === 'over')!

  it('shows the alarm and one button, and acknowledges nothing by being opened, however often', async () => {
    for (let i = 0; i < 3; i++) {
      const { status, page } = await open(link())
      expect(status).toBe(200)
      expect(page).toContain('Upper mill: Over-speed')
      expect(page.match(/<button>/g)).toHaveLength(1)
    }
    await fetch(link(), { method: 'HEAD' })
    expect(over().state).toBe('unacknowledged')
  })

  it('acknowledges with the button: the journal says who, and the ladder ends', async () => {
    const { page } = await open(link())
    expect(await press(link(), page)).toContain('nothing more to acknowledge')
    expect(audited).toEqual([
      {
        who: 'Anna <b> (by link)',
        role: null,
        address: '127.0.0.1',
        action: 'acknowledge',
        target: 'plants/mill/alarms/over',
        detail: 'by a link in a message',
        outcome: 'done',
      },
    ])
    expect(over()).toMatchObject({ state: 'acknowledged', acknowledgedBy: 'Anna <b> (by link)' })
    expect(rig.journal.newest('mill', { limit: 1 })[0]).toMatchObject({
      event: 'acknowledge',
      by: 'Anna <b> (by link)',
      note: expect.stringMatching(/^message hr_.* by bus$/),
    })
    await rig.pass(15 * 60_000, 15)
    expect(
      rig
        .deliveries('raised')
        .filter((one) => one.status === 'sent')
        .map((one) => one.recipient),
    ).toEqual(['anna'])
  })

  it('is of one event: for a later one it shows that this one is over and has no button', async () => {
    await press(link(), (await open(link())).page)
    rig.speed(1500)
    rig.speed(1770)
    const { page } = await open(link())
    expect(page).toContain('This event is over and answered.')
    expect(page).not.toContain('<button>')
    await fetch(link(), { method: 'POST', body: new URLSearchParams({ raisedAt: String(over().raisedAt) }) })
    expect(over().state).toBe('unacknowledged')
  })

  it('acknowledges nothing that the person has not seen: a raise in between is shown first', async () => {
    const { page } = await open(link())
    rig.speed(1500)
    await rig.pass(1000)
    rig.speed(1770)
    expect(await press(link(), page)).toContain('It was raised again meanwhile')
    expect(over().state).toBe('unacknowledged')
    await press(link(), (await open(link())).page)
    expect(over().state).toBe('acknowledged')
  })

  it('is worth nothing when it is changed, cut or too old', async () => {
    const good = link()
    for (const bad of [
      good.slice(0, -1),
      `${good.slice(0, -1)}${good.endsWith('A') ? 'B' : 'A'}`,
      `${good}1`,
      `${base}/acknowledge/x`,
    ]) {
      const { status, page } = await open(bad)
      expect(status, bad).toBe(410)
      expect(page).not.toContain('<button>')
      await fetch(bad, { method: 'POST', body: new URLSearchParams({ raisedAt: String(over().raisedAt) }) })
    }
    await rig.pass(61 * 60_000, 4)
    expect((await open(good)).page).toContain('too old')
    expect(over().state).toBe('unacknowledged')
  })

  it('proves the way to the person', async () => {
    await press(link(), (await open(link())).page)
    const path = rig.notify.view().paths.find((one) => one.recipient === 'anna')!
    expect(path.provenAt).toBe(rig.clock.now())
  })

  it('lets nothing run and nothing in from elsewhere, and writes names as text', async () => {
    const { headers, page } = await open(link())
    const policy = headers.get('content-security-policy')!
    expect(policy).toContain("default-src 'none'")
    expect(policy).toContain("form-action 'self'")
    expect(page).not.toContain('<script')
    await press(link(), page)
    expect((await open(link())).page).toContain('Anna &#60;b&#62; (by link)')
  })

  it('of a test message confirms that it arrived', async () => {
    expect(rig.notify.test('nobody')).toBeUndefined()
    expect(rig.notify.test('bert')).toBe(1)
    await rig.pass(1000)
    await vi.waitFor(() => expect(hook.requests).toHaveLength(2))
    const url = link(1)
    const { page } = await open(url)
    expect(page).toContain('It reached me')
    expect(await press(url, page)).toContain('Confirmed')
    expect(over().state).toBe('unacknowledged')
    expect(rig.notify.view().paths.find((one) => one.recipient === 'bert')!.provenAt).not.toBeNull()
  })

  it('of a recipient who was taken out of the file is worth nothing', async () => {
    const { clock, state } = rig
    const token = link().split('/').at(-1)!
    await rig.close()
    rig = notifyRig(yaml(hook.url).replace('id: anna, name', 'id: carl, name').replace('[anna]', '[carl]'), {
      secrets: () => SECRET,
      clock,
      state,
    })
    expect(rig.notify.acknowledgements.view(token)).toMatchObject({
      status: 'refused',
      lines: ['Its recipient is no longer told of alarms here. Open the page of the plant instead.'],
    })
  })

  it('is not published where any client of the broker could use it in the name of another', async () => {
    const open = notifyRig(yaml('').replace('kind: webhook, url: ""', 'kind: mqtt'))
    open.speed(1770)
    await open.pass(1000)
    expect(open.broker.published).toHaveLength(1)
    expect(open.broker.published[0]!.payload).not.toContain('/acknowledge/')
    await open.close()
    open.state.close()
  })
})
