import { describe } from 'vitest'
import {
  combineUncertainties,
  contributionsOf,
  coverageFactor,
  effectiveDegreesOfFreedom,
  expandUncertainty,
  meanUncertainty,
  normalUncertainty,
  rectangularUncertainty,
} from '../../server/statistics/index.ts'
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
      got: () => coverageFactor(0.99, 16),
      want: 2.920782,
    },
    {
      what: 'GUM H.1 U in nm through expandUncertainty',
      source: 'JCGM 100 H.1, printed 93; dof 18, 25.6, 50, 2 from memory',
      got: () =>
        expandUncertainty(
          H1.map((uncertainty, i) => ({ uncertainty, degreesOfFreedom: [18, 25.6, 50, 2][i]! })),
          0.99,
        ).expanded,
      want: 93,
      plusMinus: 0.5,
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
      got: () => 1.029466 * coverageFactor(0.95, 19),
      want: 2.1547,
      plusMinus: 5e-5,
    },
    {
      what: 'GUM G.4.1 U in % with ν 18.9987 rounded down to 18',
      source: 'JCGM 100 G.4 rule and table G.2 t(18) 2.1009',
      got: () => expandUncertainty(G41, 0.95).expanded,
      want: 1.029466 * 2.1009,
      within: 3e-5,
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
    {
      what: 'bucket flow 20 ± .1 L in 8 ± .2 s, relative in %,',
      source: 'worked number 7.9, exact',
      got: () =>
        (100 * combineUncertainties(contributionsOf(([v, t]) => v! / t!, [20, 8], [0.1, 0.2]))) / 2.5,
      want: 2.54951,
      within: 1e-3,
    },
    {
      what: 'rectangular ± 1.5',
      source: 'JCGM 100 4.3.7, a/√3',
      got: () => rectangularUncertainty(1.5),
      want: 0.8660254,
    },
    {
      what: 'rectangular ± 20e-6',
      source: 'JCGM 100 4.3.7 style, 11.547e-6',
      got: () => rectangularUncertainty(20e-6),
      want: 11.547005e-6,
    },
    {
      what: 'a certificate of 240 µg at k 3',
      source: 'JCGM 100 4.3.3 example, from memory: 80 µg',
      got: () => normalUncertainty(240, 3),
      want: 80,
    },
    {
      what: 'a certificate of 129 µΩ at k 2.58',
      source: 'JCGM 100 4.3.4 example, from memory: 50 µΩ',
      got: () => normalUncertainty(129, 2.58),
      want: 50,
    },
    {
      what: 'the mean of 5 readings with a pooled s of 13 nm',
      source: 'JCGM 100 H.1.3.2, printed 5.8 nm, read',
      got: () => meanUncertainty(13, 5),
      want: 5.8,
      plusMinus: 0.05,
    },
    {
      what: 'the mean of 25 readings with s 13',
      source: 'by hand',
      got: () => meanUncertainty(13, 25),
      want: 2.6,
    },
  ])
})
