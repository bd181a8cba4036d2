import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { headsOf, type Queued } from '../../../../server/alarms/notify/lanes.ts'
import { type MailServer, startMailServer } from '../../../support/mailServer.ts'
import { type NotifyRig, notifyRig } from '../../../support/notifyRig.ts'

function queued(turn: number | undefined, more: Partial<Queued> = {}): Queued {
  const fixed = { recipient: 'anna', channel: 'mail', incident: 'one', priority: 'medium' } as const
  return { ...fixed, turn, attempts: 0, isSending: false, ...more }
}
const turns = (list: Queued[]) => headsOf(list).map((one) => one.turn)

describe('headsOf', () => {
  it('lets one go at a time on each way, the oldest, also while that waits for another attempt', () => {
    expect(turns([queued(2), queued(1, { attempts: 3 }), queued(3, { recipient: 'bert' })])).toEqual([1, 3])
    expect(turns([queued(undefined), queued(4)])).toEqual([4])
  })

  it('never holds high priority up behind the rest, and keeps what is of one incident together', () => {
    const digest = queued(1, { incident: 'digest', attempts: 1 })
    const raised = queued(2)
    const worse = queued(3, { priority: 'high' })
    expect(turns([digest, raised, worse])).toEqual([1, 2])
  })

  it('lets what is of another incident pass one that was refused four times', () => {
    const refused = queued(1, { priority: 'high', attempts: 4 })
    const other = queued(3, { priority: 'high', incident: 'two' })
    expect(turns([refused, queued(2, { priority: 'high' }), other])).toEqual([1, 3])
    expect(turns([{ ...refused, isSending: true }, other])).toEqual([1])
  })
})

describe('messages while the mail server refuses everything', { timeout: 60_000 }, () => {
  let mail: MailServer
  let rig: NotifyRig
  beforeEach(async () => {
    mail = await startMailServer('away')
    rig = notifyRig(`
channels: [{ id: mail, kind: email, host: 127.0.0.1, port: ${mail.port}, from: headrace@plant.example, security: none }]
recipients:
  - { id: anna, name: Anna, by: [{ channel: mail, to: anna@plant.example }] }
rules:
  - { priorities: [high, medium], to: [anna] }`)
  })
  afterEach(async () => {
    await rig.close()
    await mail.close()
    rig.state.close()
  })

  /** So that each attempt gets its answer before time goes on. */
  async function wait(seconds: number): Promise<void> {
    for (let i = 0; i < seconds; i++) {
      await rig.pass(1000)
      await new Promise((resolve) => setTimeout(resolve, 8))
    }
  }

  it('arrive after two minutes in the order in which they were made, soon after the server is back', async () => {
    rig.power(5)
    rig.speed(1770)
    await wait(60)
    rig.speed(1500)
    await wait(30)
    rig.speed(1800)
    await wait(30)
    expect(mail.mails).toEqual([])
    mail.behave('accept')
    rig.speed(1500)
    await wait(6)
    await rig.until((all) => all.length === 4 && all.every((one) => one.status === 'sent'))
    const kinds = rig.deliveries().map((one) => one.kind)
    expect(kinds.reverse()).toEqual(['raised', 'returned', 'raised', 'returned'])
    const made = [...rig.deliveries()].sort((a, b) => a.createdAt - b.createdAt).map((one) => one.id)
    const arrived = mail.mails.map((one) => /^Message-ID: <(.*)@/m.exec(one)![1])
    expect(arrived).toEqual(made)
  })
})
