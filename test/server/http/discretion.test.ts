import { io } from 'socket.io-client'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { createJournal } from '../../../server/alarms/journal.ts'
import {
  replyWithRoles,
  withoutFaults,
  withoutPayloads,
  withoutPeople,
} from '../../../server/http/discretion.ts'
import type { JournalEntry } from '../../../server/wire/alarm.ts'
import type { NotificationsReply } from '../../../server/wire/notifications.ts'
import type { HealthReply } from '../../../server/wire/replies.ts'
import type { RunReply } from '../../../server/wire/trial.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { START } from '../../support/manualClock.ts'

const STRANGER = { 'x-forwarded-for': '203.0.113.9', cookie: '' }

describe('what somebody is told who is not signed in, where reading is open', () => {
  let http: HttpBench
  let anna: string

  beforeEach(async () => {
    http = await httpBench({ openReading: true })
    await http.person('First', 'administrator')
    anna = await http.person('Anna Example', 'operator')
  })
  afterEach(() => http.close())

  const asStranger = async (path: string) => (await http.ask('GET', path, { headers: STRANGER })).text()
  const asAnna = async (path: string) => (await http.ask('GET', path, { token: anna })).text()

  it('names no person in the journal but a role, and no address', async () => {
    await http.ask('POST', '/api/plants/mill/alarms/low/shelve', {
      token: anna,
      body: { minutes: 5, note: 'meter test' },
    })
    expect(await asAnna('/api/plants/mill/journal')).toContain('Anna Example')
    const { entries } = JSON.parse(await asStranger('/api/plants/mill/journal')) as {
      entries: JournalEntry[]
    }
    expect(entries[0]).toMatchObject({ event: 'shelve', by: 'operator', via: 'program' })
  })

  it('names nobody who took an alarm off the list, neither in the list, on the screen nor live', async () => {
    const shelved = { token: anna, body: { minutes: 5, note: 'meter test' } }
    await http.ask('POST', '/api/plants/mill/alarms/low/shelve', shelved)
    for (const path of ['/api/plants/mill/alarms', '/api/plants/mill/live']) {
      expect(await asAnna(path)).toContain('Anna Example')
      expect(await asStranger(path)).not.toContain('Anna')
      expect(await asStranger(path)).toContain('"by":"operator"')
    }
    const socket = io(http.headrace.url, { transports: ['websocket'], extraHeaders: STRANGER })
    const heard: string[] = []
    socket.onAny((...all) => heard.push(JSON.stringify(all)))
    heard.push(JSON.stringify(await socket.emitWithAck('join', 'mill')))
    await http.ask('POST', '/api/plants/mill/alarms/low/unshelve', { token: anna })
    await http.ask('POST', '/api/plants/mill/alarms/low/shelve', shelved)
    await vi.waitFor(() => expect(heard.slice(1).join()).toContain('"by":"operator"'))
    socket.disconnect()
    expect(heard.join()).not.toContain('Anna')
  })

  it('calls somebody who is no user any more somebody', async () => {
    const journal = createJournal(http.headrace.state)
    const step = { at: START, alarm: 'low', event: 'acknowledge', by: 'Gone Person', entry: 'alarm' }
    journal.record('mill', step as never, {} as never)
    const { entries } = JSON.parse(await asStranger('/api/plants/mill/journal')) as {
      entries: JournalEntry[]
    }
    expect(entries[0]!.by).toBe('somebody')
  })

  it('shows nothing of what came on topics', async () => {
    http.measure('mill/power', 'secret-0')
    http.measure('elsewhere', 'secret-1')
    expect(await asAnna('/api/health')).toContain('secret-0')
    expect(await asStranger('/api/health')).not.toContain('secret-')
  })

  it('gives no pack and no record, in which everybody is named', async () => {
    for (const what of ['pack', 'record']) {
      const reply = await http.ask('GET', `/api/plants/play/runs/1/${what}`, { headers: STRANGER })
      expect(reply.status).toBe(401)
      expect(((await reply.json()) as { error: string }).error).toContain('sign in')
    }
  })
})

describe('replies made discreet', () => {
  it('say of notifications whether they work, without recipients, addresses or the words of faults', () => {
    const reply = {
      channels: [{ id: 'hook', disabled: 'the receiver answered 410 at http://inside.example' }],
      paths: [{ recipient: 'anna', name: 'Anna', to: 'a…@plant.example', failure: 'ECONNREFUSED 10.0.0.7' }],
      deliveries: [
        { recipient: 'anna', status: 'waiting', reason: 'ECONNREFUSED 10.0.0.7' },
        { recipient: 'anna', status: 'cancelled', reason: 'acknowledged before it was its turn' },
      ],
      heartbeat: { to: 'https://watch.example', lastFailure: 'ECONNREFUSED' },
    } as unknown as NotificationsReply
    const text = JSON.stringify(withoutFaults(withoutPeople(reply)))
    for (const secret of ['nna', 'plant.example', 'inside.example', 'watch.example', 'ECONN'])
      expect(text).not.toContain(secret)
    expect(text).toContain('before it was its turn')
  })

  it('tell roles in all of a run', () => {
    const decided = { by: 'Anna', at: START }
    const reply = {
      takes: 'traces',
      run: { by: 'Anna' },
      points: [{ by: 'Anna', decided }],
      traces: [{ number: 1, decided }, { number: 2 }],
    } as unknown as RunReply
    const access = { administer: { list: () => [{ name: 'Anna', role: 'student' }] } } as never
    const told = replyWithRoles(reply, access)
    expect(JSON.stringify(told)).not.toContain('Anna')
    expect(told.run.by).toBe('student')
  })

  it('leave a topic without a fault as it is', () => {
    const topics = [{ topic: 'a', received: 1 }]
    expect(withoutPayloads({ topics, unmapped: [] } as unknown as HealthReply).topics).toEqual(topics)
  })
})
