import { describe } from 'vitest'
import { instrumentUncertainty } from '../../server/derive/instrumentUncertainty.ts'
import { studentQuantile } from '../../server/statistics/studentT.ts'
import {
  combineUncertainties,
  effectiveDegreesOfFreedom,
  expandTypes,
} from '../../server/statistics/uncertainty.ts'
import { plantOf } from '../support/plants.ts'
import { checkEach } from './check.ts'

const H1 = [25, 9.7, 2.9, 16.6]
const G41 = [
  { uncertainty: 0.25, degreesOfFreedom: 9 },
  { uncertainty: 0.57, degreesOfFreedom: 4 },
  { uncertainty: 0.82, degreesOfFreedom: 14 },
]
const UNROUNDED = 'JCGM 100 H.1, printed 2.92; unrounded recomputed'

describe('combined uncertainty', () => {
  checkEach([
    {
      what: 'GUM H.1 u_c in nm',
      source: 'JCGM 100 H.1, contributions read at second hand, printed 32; √1003.06 by hand',
      got: () => combineUncertainties(H1),
      want: 31.671,
      plusMinus: 5e-4,
    },
    {
      what: 'GUM H.1 input u(d) in nm',
      source: 'JCGM 100 H.1.3.2, recomputed',
      got: () => combineUncertainties([5.8, 3.9, 6.7]),
      want: 9.68194,
    },
    {
      what: 'GUM H.1 degrees of freedom of u(d)',
      source: 'JCGM 100 H.1.6, dof 24, 5 and 8; printed 25.6 from u(d) rounded to 9.7',
      got: () =>
        effectiveDegreesOfFreedom(
          [5.8, 3.9, 6.7].map((uncertainty, i) => ({ uncertainty, degreesOfFreedom: [24, 5, 8][i]! })),
        ),
      want: 25.6,
      within: 0.01,
    },
    {
      what: 'GUM H.1 k for 99 % and ν 16',
      source: UNROUNDED,
      got: () => studentQuantile(0.99, 16),
      want: 2.920782,
    },
    {
      what: 'GUM H.1 U in nm',
      source: 'JCGM 100 H.1, printed 93',
      got: () => combineUncertainties(H1) * studentQuantile(0.99, 16),
      want: 93,
      plusMinus: 0.6,
    },
    {
      what: 'GUM G.4.1 u_c in %',
      source: 'JCGM 100 G.4.1, recomputed',
      got: () => combineUncertainties([0.25, 0.57, 0.82]),
      want: 1.029466,
    },
    {
      what: 'GUM G.4.1 U in %',
      source: 'JCGM 100 G.4.1, printed 2.2; with ν 19 recomputed',
      got: () => 1.029466 * studentQuantile(0.95, 19),
      want: 2.1547,
      plusMinus: 5e-5,
    },
    {
      what: 'GUM G.4.1 U in % with ν 18.9987',
      source: 'JCGM 100 G.4.1, printed 2.2, and table G.2 t(19) 2.0930',
      got: () =>
        expandTypes(
          {
            standard: combineUncertainties(G41.map((part) => part.uncertainty)),
            freedom: effectiveDegreesOfFreedom(G41),
          },
          { standard: 0, widest: [0, 0] },
        ),
      want: 1.029466 * 2.093,
      within: 5e-5,
    },
    {
      what: 'hydraulic efficiency 1.5, .5, .6, .02, .01 %',
      source: 'worked number 10.6, computed for the project',
      got: () => combineUncertainties([1.5, 0.5, 0.6, 0.02, 0.01]),
      want: 1.691301,
    },
    {
      what: 'hydraulic efficiency 1.0, .4, .5 %',
      source: 'worked number 10.6, computed for the project',
      got: () => combineUncertainties([1, 0.4, 0.5]),
      want: 1.187434,
    },
    ...(
      [
        [1.5, 0.8660254],
        [20e-6, 11.547005e-6],
      ] as const
    ).map(([limits, want]) => ({
      what: `standard uncertainty of an instrument with even limits ± ${limits}`,
      source: 'JCGM 100 4.3.7, a/√3',
      got: () => standard(`absolute: ${limits}, distribution: rectangular`),
      want,
    })),
    {
      what: 'the half-width for 95 % of scatter 1 with 19 degrees of freedom and nothing else',
      source: 'JCGM 100:2008 table G.2, t 2.0930',
      got: () => expandTypes({ standard: 1, freedom: 19 }, { standard: 0, widest: [0, 0] }),
      want: 2.093,
      plusMinus: 5e-5,
    },
    {
      what: 'a certificate of 240 µg at k 3, which is 99.73 %,',
      source: 'JCGM 100 4.3.3 example, from memory: 80 µg',
      got: () => 240 / studentQuantile(0.9973, Number.POSITIVE_INFINITY),
      want: 80,
      within: 1e-4,
    },
    {
      what: 'standard uncertainty of an instrument with 95 % inside ± 240·1.96/3',
      source: 'JCGM 100 4.3.3 example, from memory: 80 µg',
      got: () => standard(`absolute: ${(240 * 1.959964) / 3}, distribution: normal`),
      want: 80,
    },
    {
      what: 'a certificate of 129 µΩ at 99 %',
      source: 'JCGM 100 4.3.4 example, from memory: 50 µΩ with k 2.58',
      got: () => 129 / studentQuantile(0.99, Number.POSITIVE_INFINITY),
      want: 50,
      within: 2e-3,
    },
    {
      what: 'standard uncertainty of an instrument with 95 % inside ± 129·1.96/2.58',
      source: 'JCGM 100 4.3.4 example, from memory: 50 µΩ',
      got: () => standard(`absolute: ${(129 * 1.959964) / 2.58}, distribution: normal`),
      want: 50,
    },
  ])
})

/** Of an instrument with this accuracy in its plant file. */
function standard(accuracy: string): number {
  const plant = plantOf(`
id: one
name: One instrument
use: rig
site: { timeZone: Etc/UTC }
instruments:
  - { id: x, topic: t/x, unit: "1", accuracy: { ${accuracy} } }
`)
  return instrumentUncertainty(plant.instruments[0]!, 1).limits
}
