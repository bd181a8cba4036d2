import { describe, expect, it } from 'vitest'
import { closurePressure, waterStartTime } from '../../server/physics/waterHammer.ts'
import { figureOf } from '../support/figureBench.ts'
import { checkEach } from './check.ts'

const CASE25 = 'example 6.1, a public teaching example, data read, computed for the project'
const SIX2 = 'example 6.2, computed for the project'
const CHOUDHARY = 'Choudhary & Om Prakash Ex. 7.19, read in a transcription, recomputed'

interface Pipe {
  density: number
  wave: number
  length: number
  velocity: number
}

/** Wave speeds by Korteweg for pipes of 12 mm and 6 mm; the plant file states them. */
const CASE: Pipe = { density: 1000, wave: 1173.4774, length: 1200, velocity: 1.5 }
const SIX: Pipe = { density: 999.7, wave: 1179.4248, length: 250, velocity: 2.1221 }

/** Through a bore of 1 m², so that the discharge is the velocity. */
const BORE = Math.sqrt(4 / Math.PI)
const figure = (id: string, { density, wave, length, velocity }: Pipe, closing = 0.01) =>
  figureOf(
    id,
    { discharge: `${velocity} m3/s` },
    {
      site: `gravity: 9.81 m/s2, waterDensity: ${density} kg/m3`,
      penstock: `{ bore: ${BORE} m, length: ${length} m, roughness: 0 mm, waveSpeed: ${wave} m/s, closingTime: ${closing} s }`,
    },
  )
const bound = ({ density, wave, length, velocity }: Pipe, closing: number) =>
  closurePressure(density, wave, length, velocity, closing)

describe('water hammer', () => {
  checkEach([
    { what: 'Joukowsky pressure', source: CASE25, got: () => bound(CASE, 0), want: 1.7602161e6 },
    { what: 'Joukowsky head', source: CASE25, got: () => figure('surgeHead', CASE), want: 179.43079 },
    {
      what: 'head of a closure faster than the critical time 2.045203 s',
      source: CASE25,
      got: () => figure('closureHead', CASE, 2.045),
      want: 179.43079,
      within: 1e-6,
    },
    {
      what: 'head of a closure in twice the critical time',
      source: `${CASE25}; half by Michaud`,
      got: () => figure('closureHead', CASE, 2 * 2.045203),
      want: 179.43079 / 2,
    },
    { what: 'Joukowsky pressure', source: SIX2, got: () => bound(SIX, 0), want: 2.5021066e6 },
    { what: 'Joukowsky head', source: SIX2, got: () => figure('surgeHead', SIX), want: 255.13327 },
    {
      what: 'head of a closure in twice the critical time 0.4239355 s',
      source: `${SIX2}; half by Michaud`,
      got: () => figure('closureHead', SIX, 2 * 0.4239355),
      want: 255.13327 / 2,
    },
    {
      what: 'mean inertia pressure, half of the bound for a pipe that does not give,',
      source: CHOUDHARY,
      got: () => closurePressure(1000, Infinity, 500, 2.263537, 0.5) / 2,
      want: 2.263537e6,
    },
    {
      what: 'mean inertia pressure in kgf/m²',
      source: CHOUDHARY,
      got: () => closurePressure(1000, Infinity, 500, 2.263537, 0.5) / 2 / 9.81,
      want: 230737.7,
    },
    {
      what: 'bound for a stop at the critical time',
      source: CASE25,
      got: () => bound(CASE, 2.045),
      want: 1.7602161e6,
    },
    {
      what: 'bound for an 8 s closure as head',
      source: 'Skelderwath data sheet, fictional site, 3.6 m (Michaud)',
      got: () => figure('closureHead', { density: 1000, wave: 1050, length: 85, velocity: 1.643 }, 8),
      want: 3.6,
      plusMinus: 0.05,
    },
    {
      what: 'bound for a 15 s spear closure as head',
      source: 'Ostrelby data sheet, fictional site, about 6 m',
      got: () => figure('closureHead', { density: 1000, wave: 290, length: 310, velocity: 1.434 }, 15),
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
