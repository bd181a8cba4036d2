import { normal, type Random } from '../../simulator/random.ts'

/**
 * Instruments whose errors are drawn outside of the server's own model: what a class limits is shared among zero,
 * gain, hysteresis and drift as it is in a real instrument, and rounded to coarse steps.
 */
export interface WornInstrument {
  role: string
  /** True value, in `unit`. */
  truth: number
  unit: string
  /** Limits as a share of the reading, and in the unit. */
  share?: number
  fixed?: number
  step?: number
  calibration?: string
  character: Character
}

/** limits: anywhere within the class. certificate: normal, 95 % within. worn: zero, gain, hysteresis and drift together. */
export type Character = 'limits' | 'certificate' | 'worn'

/** Its lines in the plant file. */
export function instrumentLine({
  role,
  unit,
  share,
  fixed,
  step,
  calibration,
  character,
}: WornInstrument): string {
  const accuracy = [
    share === undefined ? '' : `reading: ${share}`,
    fixed === undefined ? '' : `absolute: ${fixed}`,
    step === undefined ? '' : `resolution: ${step}`,
    calibration === undefined ? '' : `calibration: ${calibration}`,
    character === 'certificate' ? 'distribution: normal' : '',
  ].filter((part) => part !== '')
  return `  - { id: ${idOf(role)}, role: ${role}, topic: t/${role}, unit: "${unit}", period: 1 s, accuracy: { ${accuracy.join(', ')} } }`
}

export function idOf(role: string): string {
  return `i-${role.replace('.', '-')}`
}

const READINGS = 25

/** Readings of one such instrument, one a second, in its unit. @param common Where its calibration stands, −1 … 1. */
export function drawReadings(one: WornInstrument, random: Random, common?: number): number[] {
  const { truth, share = 0, fixed = 0, step = 0, character } = one
  const limit = share * Math.abs(truth) + fixed
  const around = () => 2 * random() - 1
  const noise = (0.05 + 0.2 * random()) * limit
  const place = common ?? (character === 'certificate' ? normal(random) / 1.959964 : around())
  const parts = [random(), random(), random(), random()]
  const sum = parts.reduce((total, part) => total + part, 0)
  const [zero, gain, hysteresis, drift] = parts.map((part) => part / sum) as [number, number, number, number]
  const errors = { zero: around(), gain: around(), side: random() < 0.5 ? -1 : 1, drift: around() }
  return Array.from({ length: READINGS }, (_, i) => {
    const worn =
      zero * errors.zero +
      gain * errors.gain +
      hysteresis * errors.side +
      drift * errors.drift * (i / (READINGS - 1))
    const value = truth + limit * (character === 'worn' ? worn : place) + noise * normal(random)
    return step > 0 ? Math.round(value / step) * step : value
  })
}
