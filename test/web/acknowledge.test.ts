import { afterEach, describe, expect, it, vi } from 'vitest'
import { createAlarmRequests } from '../../web/connect/acknowledge.ts'
import { createPlantHold } from '../../web/hold/plantHold.ts'
import { alarmNamed, MORNING, snapshotAt } from './support.ts'

const acknowledged = {
  ...alarmNamed('overSpeed', MORNING),
  state: 'latchedAcknowledged' as const,
  changedAt: MORNING,
}

/** Answers the n-th request with the n-th entry; null is a dead network. */
function answering(...answers: (Response | null)[]) {
  const asked: string[] = []
  vi.stubGlobal('fetch', async (path: string) => {
    const answer = answers[asked.length]
    asked.push(path)
    if (!answer) throw new TypeError('network')
    return answer
  })
  return asked
}

function setUp() {
  const hold = createPlantHold(snapshotAt(MORNING))
  const waits: number[] = []
  const requests = createAlarmRequests(hold, async (ms) => void waits.push(ms))
  const state = () => hold.alarms.value.find((alarm) => alarm.id === 'overSpeed')?.state
  return { requests, waits, state }
}

describe('createAlarmRequests', () => {
  afterEach(() => {
    vi.unstubAllGlobals()
  })

  it('shows the alarm as the server answers it', async () => {
    const asked = answering(Response.json(acknowledged))
    const { requests, state } = setUp()
    await requests.send('overSpeed', 'acknowledge')
    expect(asked).toEqual(['/api/plants/quennerby/alarms/overSpeed/acknowledge'])
    expect(state()).toBe('latchedAcknowledged')
    expect(requests.states.value.size).toBe(0)
  })

  it('sends again after an offline moment', async () => {
    answering(null, null, Response.json(acknowledged))
    const { requests, waits, state } = setUp()
    await requests.send('overSpeed', 'acknowledge')
    expect(waits).toEqual([1000, 2000])
    expect(state()).toBe('latchedAcknowledged')
  })

  it('does not repeat what the server refused, and says why', async () => {
    const asked = answering(Response.json({ error: 'Only from this machine.' }, { status: 403 }))
    const { requests, state } = setUp()
    await requests.send('overSpeed', 'acknowledge')
    expect(asked).toHaveLength(1)
    expect(requests.states.value.get('overSpeed')).toEqual({
      step: 'failed',
      error: 'Only from this machine.',
    })
    expect(state()).toBe('latchedUnacknowledged')
  })

  it('gives up in the end and says so', async () => {
    answering()
    const { requests } = setUp()
    await requests.send('overSpeed', 'acknowledge')
    expect(requests.states.value.get('overSpeed')?.step).toBe('failed')
  })

  it('has at most one request under way for an alarm', async () => {
    const asked = answering(Response.json(acknowledged))
    const { requests } = setUp()
    await Promise.all([requests.send('overSpeed', 'acknowledge'), requests.send('overSpeed', 'acknowledge')])
    expect(asked).toHaveLength(1)
  })
})
