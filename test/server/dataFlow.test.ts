import { describe, expect, it } from 'vitest'
import { dataFlow, type FlowInput } from '../../server/dataFlow.ts'

const PERIODIC = { staleAfterMs: 5000, periodic: true }
const FLOWING: FlowInput = {
  now: 100_000,
  startedAt: 0,
  source: { connected: true },
  storing: { ok: true },
  topics: [
    { plant: 'mill', lastReceivedAt: 99_000 },
    { plant: 'mill', lastReceivedAt: null },
  ],
  plants: [{ id: 'mill', name: 'Mill', instruments: [PERIODIC, { staleAfterMs: 30_000, periodic: true }] }],
  lostEntries: 0,
}
const reasons = (change: Partial<FlowInput>) => dataFlow({ ...FLOWING, ...change }).reasons

describe('whether data flows', () => {
  it('is true while something comes within the longest period and is kept', () => {
    expect(dataFlow(FLOWING)).toEqual({ ok: true, reasons: [] })
    expect(reasons({ topics: [{ plant: 'mill', lastReceivedAt: 70_000 }] })).toEqual([])
  })

  it('is false when nothing has come for longer than the slowest instrument may be silent', () => {
    expect(reasons({ topics: [{ plant: 'mill', lastReceivedAt: 69_000 }] })).toEqual([
      'Nothing has come from "Mill" for 31 s.',
    ])
    expect(reasons({ topics: [] })).toHaveLength(1)
  })

  it('gives a server that has just started the same time', () => {
    expect(reasons({ topics: [], startedAt: 80_000 })).toEqual([])
  })

  it('expects nothing of instruments that tell only of changes', () => {
    const plants = [{ id: 'mill', name: 'Mill', instruments: [{ ...PERIODIC, periodic: false }] }]
    expect(reasons({ plants, topics: [] })).toEqual([])
  })

  it('is false without a source, where nothing is stored, and where the journal waits for the disk', () => {
    expect(reasons({ source: { connected: false } })).toEqual([expect.stringMatching(/not connected/)])
    expect(reasons({ storing: { ok: false, detail: 'The disk is full.' } })).toEqual([
      'Measurements are not stored: The disk is full.',
    ])
    expect(reasons({ lostEntries: 2 })).toEqual([expect.stringMatching(/2 entries of the alarm journal/)])
  })
})
