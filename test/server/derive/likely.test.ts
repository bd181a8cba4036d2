import { describe, expect, it } from 'vitest'
import { READINGS } from '../../../server/derive/quantities/beliefs.ts'
import { quantities } from '../../../server/derive/quantities/index.ts'
import { createRandom } from '../../../server/statistics/bootstrap.ts'
import { figureBench } from '../../support/figureBench.ts'
import { playPlant } from '../../support/playedPlant.ts'

const SENTENCES = [...quantities.flatMap(({ likely = [] }) => likely), ...Object.values(READINGS).flat()].map(
  ({ otherwise }) => otherwise,
)

/** Seconds in which a figure of the plant could not be believed, by figure and sentence. */
function disbelieved(id: string, scenario: string | undefined, seconds: number): Map<string, number> {
  const plant = playPlant(id, {}, { messageMs: 50, tickMs: 200 })
  plant.run(10)
  if (scenario !== undefined) plant.site.command('scenario', scenario)
  const found = new Map<string, number>()
  for (let step = 0; step < seconds * 5; step++) {
    plant.run(0.2)
    for (const { index, description } of plant.live.plan.nodes)
      for (const text of plant.live.evaluator.view(index).reasons)
        if (SENTENCES.includes(text))
          found.set(`${description.id}: ${text}`, (found.get(`${description.id}: ${text}`) ?? 0) + 0.2)
  }
  return found
}

describe('a figure of a sound plant', () => {
  it.each(
    ['quennerby', 'ostrelby', 'skelderwath'].flatMap((id) =>
      [undefined, 'loadSteps', 'dirtyRack'].map((scenario) => [id, scenario] as const),
    ),
  )('is believed at every moment: %s, %s', (id, scenario) => {
    expect(Object.fromEntries(disbelieved(id, scenario, 60))).toEqual({})
  })

  it.each(['quennerby', 'ostrelby', 'skelderwath'])(
    'is disbelieved for seconds alone in what upsets the plant most, a lost load: %s',
    (id) => {
      for (const [sentence, seconds] of disbelieved(id, 'loadRejection', 60))
        expect(seconds, sentence).toBeLessThan(4)
    },
  )
})

describe('a reading that is a thousandth of what it should be', () => {
  const GENERATOR = 'kind: synchronous, polePairs: 2, ratedPower: 100 kW, ratedSpeed: 1500 /min'

  it.each([
    ['torque and speed', { torque: '600 N.m', speed: '1500 /min' }],
    [
      'voltages and currents',
      Object.fromEntries(
        [1, 2, 3].flatMap((k) => [
          [`phaseVoltage.${k}`, '230 V'],
          [`phaseCurrent.${k}`, '150 A'],
        ]),
      ),
    ],
  ])('is told from %s, which make some 100 kW', (_what, readings) => {
    const powerOf = (activePower: string) =>
      figureBench({ generator: `{ ${GENERATOR} }` }, { ...readings, activePower }).view('activePower')
    expect(powerOf('95 W')).toMatchObject({
      quality: 'uncertain',
      reasons: [expect.stringMatching(/thousandth/)],
    })
    expect(powerOf('95 kW').quality).toBe('good')
    expect(powerOf('0 W').quality).toBe('good')
  })
})

describe('speed and frequency of a machine that nobody tuned for', () => {
  it('are believed together at any pole pairs, drive and load, and not where the speed comes in another unit', () => {
    const random = createRandom(11)
    for (let draw = 0; draw < 100; draw++) {
      const [pairs, f, slip] = [1 + Math.floor(8 * random()), random() < 0.5 ? 50 : 60, 0.04 * random()]
      const rated = ((60 * f) / pairs) * (1 + slip)
      const load = random()
      const bench = (speed: number) =>
        figureBench(
          {
            turbine: `{ kind: francis, driveRatio: ${(1 + 2 * random()).toFixed(3)} }`,
            generator: `{ kind: induction, polePairs: ${pairs}, ratedPower: 100 kW, ratedSpeed: ${rated} /min }`,
          },
          {
            speed: `${speed} /min`,
            frequency: `${f * (0.98 + 0.04 * random())} Hz`,
            activePower: `${100 * load} kW`,
          },
        )
      expect(bench(rated).view('speed').quality).toBe('good')
      for (const factor of [60, 30 / Math.PI])
        if (load > 0.05) expect(bench(rated / factor).view('speed').quality, `${factor}`).toBe('uncertain')
    }
  })
})
