import { strFromU8, unzipSync } from 'fflate'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Reading } from '../../../../server/ingest/reading.ts'
import type { LivePlant } from '../../../../server/livePlant.ts'
import { openPeople, type State } from '../../../../server/state/openState.ts'
import { MOST_WAITING } from '../../../../server/trials/trace/traceRun.ts'
import { createTrials, type Trials } from '../../../../server/trials/trials.ts'
import { livePlantOf } from '../../../support/livePlantOf.ts'
import { START } from '../../../support/manualClock.ts'
import { plantOf, TRACE_RIG } from '../../../support/plants.ts'
import { scratchFolder } from '../../../support/scratch.ts'
import { taking } from '../../../support/trialBench.ts'

const RPM = (2 * Math.PI) / 60

const textsOf = (zip: Uint8Array): Record<string, string> =>
  Object.fromEntries(Object.entries(unzipSync(zip)).map(([name, bytes]) => [name, strFromU8(bytes)]))
const PACKED =
  'SHA256SUMS,curves.csv,instruments.csv,method.txt,plant-file.yaml,plot.png,plot.svg,raw.csv,record.html,reduced.csv,run.json,together.csv'

describe('a run of a trial that records traces', () => {
  let folder: ReturnType<typeof scratchFolder>
  let state: State
  let live: LivePlant
  let trials: Trials
  let now: number

  const open = () => {
    state = openPeople(folder.path)
    live = livePlantOf(plantOf(TRACE_RIG))
    live.setConnected(true)
    const clock = { now: () => now, mono: () => now, every: () => () => {}, after: () => () => {} }
    trials = createTrials({ state, clock, plants: () => new Map([[live.plant.id, live]]) })
  }
  const close = async () => {
    await trials.close()
    state.close()
  }
  beforeEach(() => {
    now = START
    folder = scratchFolder()
    open()
  })
  afterEach(async () => {
    await close()
    folder.remove()
  })

  function send(instrument: string, quantity: string, value: number): void {
    const reading: Reading = {
      plant: 'bench',
      instrument,
      quantity,
      value,
      quality: 'good',
      reasons: [],
      measuredAt: now,
      receivedAt: now,
    }
    live.takeReading(reading)
    trials.takeReading(reading)
  }
  /** Speed 20 times a second, one look in half a second; `speed` in min⁻¹ over seconds from the start of the call. */
  function play(seconds: number, speed: (t: number) => number): void {
    const from = now
    while (now < from + seconds * 1000) {
      now += 50
      send('speed', 'speed', speed((now - from) / 1000) * RPM)
      if (now % 500 !== 0) continue
      live.tick(now)
      trials.tick(now)
    }
  }
  const switchAll = (isOpen: number, amperes: number) => {
    send('jet-1', 'jetOpen.1', isOpen)
    send('current-1', 'phaseCurrent.1', amperes)
  }
  const start = (trial: string): number => {
    const started = trials.start(live, { trial, name: 'test' }, 'me')
    if (!started.ok) throw new Error(started.error)
    return started.value.run
  }
  const trace = async (run: number) => {
    const reply = await trials.run('bench', run)
    if (!reply.ok) throw new Error(reply.error)
    return taking('traces', reply.value)
  }
  const rejected = { takes: 'traces', verdict: 'rejected', by: 'Ada' } as const
  /** Begins a run-down at 1545 min⁻¹ that has lasted `seconds`. */
  const runDown = (seconds: number): number => {
    const run = start('runDown')
    switchAll(1, 0)
    play(4, () => 1545)
    switchAll(0, 0)
    play(seconds, (t) => 1545 - 120 * t)
    return run
  }

  it('says what stands against it: the speed, then the open jet, then the load', async () => {
    const run = start('runDown')
    switchAll(1, 3)
    play(1, () => 1200)
    expect((await trace(run)).guidance).toMatchObject({
      state: 'preparing',
      sentence: 'Speed is not there yet: bring it to between 102 and 106 % of rated speed.',
    })
    play(1, () => 1545)
    expect((await trace(run)).guidance).toMatchObject({
      state: 'armed',
      sentence: 'Jet open 1 is open: shut it.',
    })
    switchAll(0, 3)
    play(0.5, () => 1540)
    expect((await trace(run)).guidance!.sentence).toBe(
      'Phase current 1 is on: take the load off the generator.',
    )
    expect((await trace(run)).guidance!.conditions.map(({ label, isMet }) => [label, isMet])).toEqual([
      ['Jets shut', true],
      ['No load', false],
    ])
  })

  it('begins when all is off and the speed falls, and keeps the three seconds before', async () => {
    const run = runDown(2)
    const [one] = (await trace(run)).traces
    expect(one).toMatchObject({ number: 1, ending: 'recording', verdict: 'kept' })
    expect(one!.triggeredAt - one!.from).toBe(3000)
    // 20 a second over 3 s before and 1.5 s since, and one reading of the contact and of the current each
    expect(one!.readings).toBeGreaterThanOrEqual(90)
    expect(one!.readings).toBeLessThanOrEqual(95)
  })

  it('begins anew where the machine slowed down under load', async () => {
    const run = start('runDown')
    switchAll(1, 3)
    play(2, () => 1545)
    play(3, () => 1300)
    switchAll(0, 0)
    play(2, (t) => 1300 - 100 * t)
    expect((await trace(run)).traces).toEqual([])
    expect((await trace(run)).guidance!.state).toBe('preparing')
  })

  it('loses at most a second of readings with the server, closes the trace and rejects it with the reason', async () => {
    const run = runDown(3)
    const before = (await trace(run)).traces[0]!
    await close()
    now += 4000
    open()
    trials.tick(now)
    const [after] = (await trace(run)).traces
    expect(after).toMatchObject({ ending: 'interrupted', verdict: 'rejected', endedAt: now })
    expect(after!.reason).toMatch(/started anew/)
    expect(after!.readings).toBe(before.readings)
    // everything up to the last half second was on the disk
    const stored = await trials.trace('bench', run, 1)
    if (!stored.ok) throw new Error(stored.error)
    const speed = stored.value.lines.find((line) => line.quantity === 'speed')!
    expect(stored.value.zeroAt + speed.at.at(-1)! * 1000).toBeGreaterThanOrEqual(now - 4000 - 1000)
    expect((await trace(run)).guidance).toMatchObject({ kept: 0, wanted: 3 })
  })

  it('goes on with a gap where the trial allows one', async () => {
    const run = start('batteryBalance')
    const count = (seconds: number) => {
      for (let i = 0; i < 2 * seconds; i++) {
        now += 500
        send('battery-voltage', 'batteryVoltage', 26)
        send('battery-current', 'batteryCurrent', -10)
        live.tick(now)
        trials.tick(now)
      }
    }
    count(100)
    await close()
    now += 60_000
    open()
    count(100)
    expect((await trace(run)).traces).toHaveLength(1)
    trials.arm('bench', run, false)
    const [one] = (await trace(run)).traces
    expect(one).toMatchObject({ ending: 'stopped', verdict: 'kept' })
    if (!one!.result?.isReduced) throw new Error('not reduced')
    // 10 A for 99.5 s and again for 99.5 s
    const out = one!.result.amounts.find(({ id }) => id === 'chargeOut')!.value!
    expect(out).toBeCloseTo(1990, -1)
    expect(one!.result.remarks.join()).toMatch(/6[01] s without readings were not counted/)
  })

  it('never changes what was measured, nor lets a trace that has ended grow', () => {
    const run = runDown(10)
    expect(state.database.prepare('SELECT ending FROM trial_trace').get()).toMatchObject({
      ending: 'complete',
    })
    const refused = [
      "UPDATE trial_trace_part SET raw = '{}'",
      'DELETE FROM trial_trace_part',
      'DELETE FROM trial_trace',
      'UPDATE trial_trace SET begun = 0',
      'UPDATE trial_trace SET ended = 0',
      `INSERT INTO trial_trace_part VALUES (${run}, 1, 9999, 1, '{}')`,
    ]
    for (const sql of refused) expect(() => state.database.exec(sql), sql).toThrow(/never|has ended/)
  })

  it('takes a rejection only with its reason, and counts the trace no more', async () => {
    const run = runDown(10)
    expect(trials.decide('bench', run, { ...rejected, number: 1 })).toMatchObject({
      ok: false,
      status: 400,
    })
    expect(trials.decide('bench', run, { ...rejected, number: 7, reason: 'x' })).toMatchObject({
      status: 404,
    })
    expect(trials.decide('bench', run, { ...rejected, number: 1, reason: 'bumped' })).toMatchObject({
      ok: true,
    })
    const { traces, together } = await trace(run)
    expect(traces[0]).toMatchObject({ verdict: 'rejected', reason: 'bumped' })
    expect(together.amounts).toEqual([])
  })

  it('keeps every decision on a trace, with who, when and why, in the pack and for good', async () => {
    const run = runDown(10)
    const first = now
    trials.decide('bench', run, { ...rejected, number: 1, reason: 'bumped' })
    now += 60_000
    trials.decide('bench', run, { takes: 'traces', verdict: 'kept', by: 'Bo', number: 1 })
    const packed = await trials.pack('bench', run)
    if (!packed.ok) throw new Error(packed.error)
    expect(JSON.parse(textsOf(packed.value)['run.json']!).decisions).toMatchObject([
      { number: 1, at: first, by: 'Ada', verdict: 'rejected', reason: 'bumped' },
      { number: 1, at: now, by: 'Bo', verdict: 'kept', reason: '' },
    ])
    expect((await trace(run)).traces[0]).toMatchObject({ verdict: 'kept', decided: { by: 'Bo', at: now } })
    for (const sql of ["UPDATE trial_decision SET reason = ''", 'DELETE FROM trial_decision'])
      expect(() => state.database.exec(sql), sql).toThrow(/only ever added to/)
  })

  it('keeps at most so many readings while the disk refuses them, and says how many were lost', async () => {
    const run = runDown(2)
    state.database.exec(
      "CREATE TRIGGER refuse BEFORE INSERT ON trial_trace_part BEGIN SELECT RAISE(ABORT, 'full'); END",
    )
    for (let i = 0; i < MOST_WAITING + 100; i++) send('speed', 'speed', 1000 * RPM)
    now += 500
    trials.tick(now)
    expect((await trace(run)).guidance).toMatchObject({ state: 'storing', lost: 100 })
    state.database.exec('DROP TRIGGER refuse')
    now += 500
    trials.tick(now)
    expect((await trace(run)).guidance!.state).toBe('recording')
  })

  it('puts every reading at its own time into the pack, and what it was reduced to', async () => {
    const run = runDown(10)
    const packed = await trials.pack('bench', run)
    if (!packed.ok) throw new Error(packed.error)
    const files = textsOf(packed.value)
    expect(trials.list(live).underWay).toMatchObject({ takes: 'traces', kept: 1, rejected: 0 })
    expect(Object.keys(files).sort().join()).toBe(PACKED)
    expect(files['record.html']).toMatch(
      /kg·m²[\s\S]*Trace 1[\s\S]*Inertia[^<]*<[\s\S]*kg·m²[\s\S]*Date, signature/,
    )
    const lines = files['raw.csv']!.trim().split('\r\n')
    const speeds = lines.filter((line) => line.startsWith('1,speed,'))
    const times = speeds.map((line) => Number(line.split(',')[4]))
    expect(times.slice(1).every((time, i) => time - times[i]! === 50)).toBe(true)
    const { readings } = (await trace(run)).traces[0]!
    expect(lines.length - 1).toBe(readings)
    expect(files['reduced.csv']).toMatch(/1,.*complete.*,inertia,Inertia,/)
    expect(files['together.csv']).toMatch(/^inertia,Inertia,1,/m)
  })

  it('begins none while another run is under way, and ends with the run', async () => {
    const run = runDown(2)
    const other = trials.start(live, { trial: 'runDown', name: 'other' }, 'me')
    expect(other).toMatchObject({ ok: false, status: 409 })
    expect(trials.finish('bench', run)).toMatchObject({ ok: true })
    const { traces, guidance } = await trace(run)
    expect(traces[0]).toMatchObject({ ending: 'stopped' })
    expect(guidance).toBeNull()
    expect(trials.arm('bench', run, true)).toMatchObject({ ok: false, status: 409 })
  })

  it('takes a typed loss in place of the plant file’s', async () => {
    const run = runDown(10)
    const typed = trials.enter('bench', run, {
      by: 'me',
      figures: [
        { figure: 'speed', value: 1200, unit: '/min' },
        { figure: 'lossPower', value: 30, unit: 'W', u: 0.5 },
      ],
    })
    expect(typed).toMatchObject({ ok: true })
    // 120 min⁻¹ a second is 12.57 rad/s²: J = 30 W/(125.7 rad/s · 12.57 rad/s²)
    const inertia = (await trace(run)).together.amounts[0]!
    expect(inertia.value).toBeCloseTo(30 / (1200 * RPM * 120 * RPM), 4)
  })
})
