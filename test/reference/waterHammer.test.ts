import { describe, expect, it } from 'vitest'
import {
  closurePressure,
  criticalTime,
  joukowskyHead,
  joukowskyPressure,
  rigidColumnPressure,
  waterStartTime,
  waveSpeed,
} from '../../server/physics/index.ts'
import { checkEach } from './check.ts'

const CASE25 = 'example 6.1, a public teaching example, data read, computed for the project'
const SIX2 = 'example 6.2, computed for the project'
const CHOUDHARY = 'Choudhary & Om Prakash Ex. 7.19, read in a transcription, recomputed'
const a1 = () => waveSpeed(2.1e9, 1000, 0.6, 0.012, 200e9)
const a2 = () => waveSpeed(2.094e9, 999.7, 0.3, 0.006, 207e9)

describe('water hammer', () => {
  checkEach([
    { what: 'wave speed', source: CASE25, got: a1, want: 1173.4774 },
    {
      what: 'wave speed in a rigid pipe',
      source: CASE25,
      got: () => waveSpeed(2.1e9, 1000, 0.6, 0.012, Infinity),
      want: 1449.1377,
    },
    {
      what: 'Joukowsky pressure',
      source: CASE25,
      got: () => joukowskyPressure(1000, a1(), 1.5),
      want: 1.7602161e6,
    },
    { what: 'Joukowsky head', source: CASE25, got: () => joukowskyHead(a1(), 1.5, 9.81), want: 179.43079 },
    { what: 'critical time', source: CASE25, got: () => criticalTime(1200, a1()), want: 2.045203 },
    { what: 'wave speed', source: SIX2, got: a2, want: 1179.4248 },
    {
      what: 'Joukowsky pressure',
      source: SIX2,
      got: () => joukowskyPressure(999.7, a2(), 2.1221),
      want: 2.5021066e6,
    },
    { what: 'Joukowsky head', source: SIX2, got: () => joukowskyHead(a2(), 2.1221, 9.81), want: 255.13327 },
    { what: 'critical time', source: SIX2, got: () => criticalTime(250, a2()), want: 0.4239355 },
    {
      what: 'mean inertia pressure',
      source: CHOUDHARY,
      got: () => rigidColumnPressure(1000, 500, 2.263537, 0.5),
      want: 2.263537e6,
    },
    {
      what: 'mean inertia pressure in kgf/m²',
      source: CHOUDHARY,
      got: () => rigidColumnPressure(1000, 500, 2.263537, 0.5) / 9.81,
      want: 230737.7,
    },
    {
      what: 'bound for an instant stop',
      source: CASE25,
      got: () => closurePressure(1000, a1(), 1200, 1.5, 0),
      want: 1.7602161e6,
    },
    {
      what: 'bound for a stop at the critical time',
      source: CASE25,
      got: () => closurePressure(1000, a1(), 1200, 1.5, 2.045),
      want: 1.7602161e6,
    },
    {
      what: 'bound for an 8 s closure as head',
      source: 'Skelderwath data sheet, fictional site, 3.6 m (Michaud)',
      got: () => closurePressure(1000, 1050, 85, 1.643, 8) / 9810,
      want: 3.6,
      plusMinus: 0.05,
    },
    {
      what: 'bound for a 15 s spear closure as head',
      source: 'Ostrelby data sheet, fictional site, about 6 m',
      got: () => closurePressure(1000, 290, 310, 1.434, 15) / 9810,
      want: 6.04,
      plusMinus: 0.05,
    },
    {
      what: 'water start time',
      source: 'Lv/(gH) by hand for Ostrelby: 444.54/470.88',
      got: () => waterStartTime(310, 1.434, 48, 9.81),
      want: 0.944062,
    },
    {
      what: 'water start time',
      source: 'Lv/(gH) by hand for Skelderwath: 139.655/196.2',
      got: () => waterStartTime(85, 1.643, 20, 9.81),
      want: 0.711799,
    },
  ])
  it('has one bound, continuous where the closing time passes the critical time', () => {
    const at = (seconds: number) => closurePressure(1000, 1000, 500, 2, seconds)
    expect(at(1.0000001)).toBeCloseTo(at(0.9999999), 0)
    expect(at(2)).toBeCloseTo(at(1) / 2, 6)
    expect(at(-1)).toBeNaN()
  })
})
