import { describe, expect, it } from 'vitest'
import { scenarios } from '../../simulator/scenarios/index.ts'
import { type Drill, drill, printDrill, type ToldRow } from './drill.ts'

/** Nothing goes wrong in these. */
const QUIET = ['steadyDay', 'loadSteps', 'jetClosing']

export interface Expected {
  /** What a load rejection is told to have begun with. */
  firstOfRejection: string
}

/** Each scenario on one demo plant: prints who was told what, and holds it against the simulator's own truth. */
export function testDrills(id: string, { firstOfRejection }: Expected): void {
  describe(`${id}, ten minutes of each scenario`, () => {
    for (const scenario of scenarios.map((one) => one.id))
      it(`${scenario}: nobody is told what is not so`, { timeout: 300_000 }, async () => {
        const played = await drill(id, scenario)
        console.log(`${id}, ${printDrill(scenario, played)}`)
        expect(played.told.flatMap((row) => untruths(row, played))).toEqual([])
        if (QUIET.includes(scenario)) expect([played.raised, played.told]).toEqual([[], []])
        if (scenario !== 'sensorLost') expect(ofKind(played, 'inputLost')).toEqual([])
        if (scenario === 'loadRejection') expectOneStory(played, firstOfRejection)
      })
  })
}

const ofKind = ({ told }: Drill, kind: string) => told.filter((one) => one.kind === kind)

/** At most the first alarm and a graver one, one that follows, and no "over": nobody has reset the trip. */
function expectOneStory(played: Drill, first: string): void {
  const toAnna = played.told.filter((one) => one.to === 'Anna').map((one) => one.kind)
  expect(toAnna).toEqual(['raised', 'raised', 'followed'])
  expect(ofKind(played, 'followed')[0]!.short).toContain(`: ${first}`)
}

/** Sentences of a message that the simulated machine contradicts. */
function untruths(row: ToldRow, played: Drill): string[] {
  const { truth } = row
  const isAtRest = truth.speed < 0.02
  const claims: [isSaid: boolean, isSo: boolean, what: string][] = [
    [row.kind === 'returned', !truth.tripped && (isAtRest || truth.power > 0.01), 'that it is over'],
    [/^Over-speed 120 %/.test(nameIn(row)), truth.highestSpeed >= 1.19, 'an over-speed of 120 %'],
    [/^Over-speed 110 %/.test(nameIn(row)), truth.highestSpeed >= 1.09, 'an over-speed of 110 %'],
    [/At [\d:]+ \w+: The shaft stands still/.test(row.short), isAtRest, 'that the shaft stands still'],
    [/At [\d:]+ \w+: Making/.test(row.short), truth.power > 0, 'that power is made'],
  ]
  const contradicted = claims.filter(([isSaid, isSo]) => isSaid && !isSo).map(([, , what]) => what)
  const peak = / reached (\d+) min⁻¹/.exec(row.short)?.[1]
  const rated = played.plant.live.plant.constants.get('generator.ratedSpeed')! * (30 / Math.PI)
  const isPeakWrong = peak !== undefined && Math.abs(Number(peak) / rated - truth.highestSpeed) > 0.02
  const said = [...contradicted, ...(isPeakWrong ? [`the peak ${peak} min⁻¹`] : [])]
  return said.map((what) => `${row.at} s: ${what}, in "${row.short}"`)
}

/** What stands behind the name of the plant. */
function nameIn({ short }: ToldRow): string {
  return short.split(': ')[1] ?? ''
}
