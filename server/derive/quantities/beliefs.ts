import type { Plant } from '../../plant/plant.ts'
import type { Likelihood } from '../quantity.ts'

/**
 * What holds at every machine that makes power, and at none whose instruments send another unit than the plant file says.
 * The laws are those of the figures themselves; how far off is too far is common practice, no source. Each test passes while next
 * to nothing is made, since a machine that starts or stops does what it likes.
 */

const POLE_PAIRS = { z_p: 'generator.polePairs', P_r: 'generator.ratedPower' } as const
const RATED = { P_r: 'generator.ratedPower' } as const
const isAlternating = ({ generator }: Plant) => generator?.kind !== 'directCurrent'

/** Speed over that of the frequency, f = n·p, where the speed comes in another unit: this factor makes it right. */
function speedIn(factor: string, unit: string): Likelihood {
  return {
    test: `abs(P) < 0.05 * P_r or abs(${factor} * x * z_p / (2 * pi * f) - 1) > 0.12`,
    inputs: { f: 'frequency', P: 'activePower' },
    constants: POLE_PAIRS,
    applies: isAlternating,
    otherwise: `does not go with the frequency and the pole pairs: it is as if ${unit}`,
  }
}

export const SPEED: readonly Likelihood[] = [
  speedIn('60', 'turns per second (Hz) came where the plant file says turns per minute'),
  speedIn('30 / pi', 'rad/s came where the plant file says turns per minute'),
  {
    test: 'abs(P) < 0.05 * P_r or r < 1.3 or abs(r * x * z_p / (2 * pi * f) - 1) > 0.12',
    inputs: { f: 'frequency', P: 'activePower' },
    constants: { ...POLE_PAIRS, r: 'turbine.driveRatio' },
    applies: isAlternating,
    otherwise:
      'does not go with the frequency and the pole pairs: it is as if the speed of the turbine came for that of the generator',
  },
  {
    test: 'abs(P) < 0.05 * P_r or abs(x * z_p / (2 * pi * f) - 1) < 0.15',
    inputs: { f: 'frequency', P: 'activePower' },
    constants: POLE_PAIRS,
    applies: isAlternating,
    otherwise: 'does not go with the frequency and the pole pairs while power is made: check the three',
  },
  {
    test: 'abs(P) < 0.2 * P_r or x > 0.2 * n_r',
    inputs: { P: 'activePower' },
    constants: { ...RATED, n_r: 'generator.ratedSpeed' },
    otherwise:
      'is less than a fifth of rated while power is made: check its unit (Hz for turns per minute?) and the power',
  },
]

export const FREQUENCY: readonly Likelihood[] = [
  {
    // where the speed is that far off, it is the speed that is in another unit
    test: 'abs(P) < 0.05 * P_r or abs(omega * z_p / (2 * pi * x) - 1) < 0.15 or omega * z_p / (2 * pi * x) < 0.3',
    inputs: { omega: 'speed', P: 'activePower' },
    constants: POLE_PAIRS,
    applies: isAlternating,
    otherwise: 'does not go with the speed and the pole pairs while power is made: check the three',
  },
]

export const SLIP: readonly Likelihood[] = [
  {
    test: 'abs(P) < 0.05 * P_r or abs(x) < 0.1',
    inputs: { P: 'activePower' },
    constants: RATED,
    otherwise:
      'an induction machine that makes power stays within 10 % of the speed of its field: check pole pairs, frequency and speed',
  },
  {
    test: 'P < 0.05 * P_r or x < 0.005 + u_95',
    inputs: { P: 'activePower' },
    constants: RATED,
    otherwise:
      'an induction machine that makes power turns faster than its field: check pole pairs, frequency and speed, and the sign of the power',
  },
]

type Beside = Pick<Likelihood, 'inputs' | 'applies'> & { power: string; words: string }

/** A thousandth of another power, of which it should be the most part: kW in place of W, MW in place of kW. */
function thousandthOf({ power, words, ...of }: Beside): Likelihood {
  return {
    ...of,
    test: `${power} < 0.2 * P_r or abs(1000 * x) < 0.3 * ${power} or abs(1000 * x) > 1.2 * ${power}`,
    constants: RATED,
    otherwise: `is about a thousandth of ${words}: kW in place of W, or MW in place of kW?`,
  }
}

/** A tenth of it; near rated, since a machine that only takes its field from the grid has such a power factor too. */
function tenthOf({ power, words, ...of }: Beside): Likelihood {
  return {
    ...of,
    test: `${power} < 0.7 * P_r or abs(10 * x) < 0.5 * ${power} or abs(10 * x) > 1.2 * ${power}`,
    constants: RATED,
    otherwise: `is about a tenth of ${words}: a decimal point, or the ratio of the current transformers?`,
  }
}

const BESIDE_POWER: readonly Beside[] = [
  {
    power: 'sum(U * I)',
    words: 'volts times amperes',
    inputs: { U: 'phaseVoltage.1..3', I: 'phaseCurrent.1..3' },
  },
  {
    power: 'U * I',
    words: 'volts times amperes',
    inputs: { U: 'phaseVoltage.1', I: 'phaseCurrent.1' },
    applies: ({ generator }) => generator?.phases === 1,
  },
  {
    power: 'T * omega',
    words: 'what the shaft gives, torque times speed',
    inputs: { T: 'torque', omega: 'speed' },
  },
]

export const POWER: readonly Likelihood[] = [
  ...BESIDE_POWER.map(thousandthOf),
  ...BESIDE_POWER.map(tenthOf),
  {
    test: 'abs(x) < 0.1 * P_r or abs(x) < 1.3 * sum(U * I)',
    inputs: { U: 'phaseVoltage.1..3', I: 'phaseCurrent.1..3' },
    constants: RATED,
    otherwise: 'is more than volts times amperes: check power, voltages and currents (W in place of kW?)',
  },
]

export const FLOW: readonly Likelihood[] = [
  {
    test: 'x > -0.02 * Q_r - u_95',
    constants: { Q_r: 'turbine.ratedDischarge' },
    otherwise:
      'by its meter the water runs back: is the meter or its sign turned round, or does the machine pump?',
  },
]

const ABOVE_GROSS =
  'net head above gross head: check the pressure gauge, its elevation, and the levels (a surge does it for a moment)'

const CLOSING = {
  L: 'penstock.length',
  D: 'penstock.bore',
  T: 'penstock.closingTime',
  Q_r: 'turbine.ratedDischarge',
} as const
const isSurgeKnown = ({ constants }: Plant) => Object.values(CLOSING).every((path) => constants.has(path))
/** Rise while the water is stopped, L·v/(g·T) for an even closing; valves close unevenly (common practice, no source). */
const SURGE = '2.5 * L * meanVelocity(Q_r, D) / (standardGravity() * T)'

/** The test as it stands, and with room for a surge at a plant whose file tells how large it may be. */
function butForSurges(test: (surge: string) => string, one: Omit<Likelihood, 'test'>): readonly Likelihood[] {
  return [
    { ...one, test: test(''), applies: (plant) => !isSurgeKnown(plant) },
    { ...one, test: test(` + ${SURGE}`), constants: { ...one.constants, ...CLOSING } },
  ]
}

export const NET_HEAD = butForSurges((surge) => `x < 1.02 * H_g + u_95${surge}`, {
  inputs: { H_g: 'grossHead' },
  otherwise: ABOVE_GROSS,
})

export const HEAD_LOSS = butForSurges((surge) => `-x < 0.02 * H_g + u_95${surge}`, {
  inputs: { H_g: 'grossHead' },
  otherwise: ABOVE_GROSS,
})

export const GROSS_HEAD: readonly Likelihood[] = [
  {
    test: 'x > -u_95',
    otherwise:
      'the headwater stands below the machine: are headwater and tailwater exchanged, or a zero wrong?',
  },
]

/** Of what is measured and never derived, by its role. */
export const READINGS: Readonly<Record<string, readonly Likelihood[]>> = {
  inletPressure: butForSurges(
    (surge) => `x < 1.02 * waterDensityTanaka(t) * standardGravity() * (z_hw + z_0 - z_p${surge}) + u_95`,
    {
      inputs: { z_hw: 'headwaterLevel' },
      constants: {
        t: 'site.waterTemperature',
        z_0: 'site.elevations.headwaterZero',
        z_p: 'site.elevations.inletGauge',
      },
      otherwise:
        'more than the headwater above the gauge presses: check the gauge, its elevation, and the level (a surge does it for a moment)',
    },
  ),
}
