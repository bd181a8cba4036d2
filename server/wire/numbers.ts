/** Shown where a value cannot be given. Never 0. */
export const NO_VALUE = '–'

const SIGNIFICANT = 4
const MOST_DECIMALS = 3
const MOST_STEP_DECIMALS = 6
const MINUS = '\u2212'
const THIN_SPACE = '\u202f'

export interface NumberText {
  text: string
  /** Half-width of the 95 % interval, rounded like the value. */
  uncertainty?: string
}

export interface NumberOptions {
  /** Half-width of the 95 % coverage interval, in the unit of the value. */
  u95?: number | undefined
  /** A usual size of this figure (e.g. rated), so that the decimals do not jump when the value is small. */
  usual?: number | undefined
}

/**
 * Digits that a value earns: with a stated uncertainty the value ends where the uncertainty does, which is
 * given with one digit, or two if it starts with 1; otherwise four significant digits and at most three decimals.
 *
 * Example: 847.2 with u95 9.1 → "847" and "9"; 71.83 with u95 1.04 → "71.8" and "1.0".
 * Source: JCGM 100:2008, 7.2.6 (no more than two digits of uncertainty; round the value to match).
 */
export function formatNumber(value: number | null, { u95, usual }: NumberOptions = {}): NumberText {
  if (value === null || !Number.isFinite(value)) return { text: NO_VALUE }
  if (u95 !== undefined && Number.isFinite(u95) && u95 > 0) {
    const decimals = decimalsOfUncertainty(u95)
    return { text: fixed(value, decimals), uncertainty: fixed(u95, decimals) }
  }
  return { text: fixed(value, decimalsOfSize(value, usual)) }
}

/** Decimals of the last digit that an uncertainty allows; negative for tens, hundreds, … */
export function decimalsOfUncertainty(u95: number): number {
  const [digits, exponent] = u95.toExponential().split('e')
  return (digits!.startsWith('1') ? 1 : 0) - Number(exponent)
}

function decimalsOfSize(value: number, usual = 0): number {
  const size = Math.max(Math.abs(value), Math.abs(usual))
  // States and counts (0, 1, 2 …) have no decimals to show.
  if (usual === 0 && Number.isInteger(value) && size < 10) return 0
  if (size === 0) return 0
  const exponent = Number(size.toExponential(SIGNIFICANT - 1).split('e')[1])
  return Math.min(MOST_DECIMALS, Math.max(0, SIGNIFICANT - 1 - exponent))
}

function fixed(value: number, decimals: number): string {
  const step = decimals < 0 ? 10 ** -decimals : 1
  const text = (Math.round(Math.abs(value) / step) * step).toString()
  const digits = decimals < 0 ? text : Math.abs(value).toFixed(Math.min(decimals, 12))
  const isZero = Number(digits) === 0
  return (value < 0 && !isZero ? MINUS : '') + grouped(digits)
}

/** Groups of three from 10 000 on, with a thin space (ISO 80000-1). */
function grouped(digits: string): string {
  const [whole, part] = digits.split('.')
  const spaced = whole!.length < 5 ? whole! : whole!.replace(/\B(?=(\d{3})+$)/g, THIN_SPACE)
  return part === undefined ? spaced : `${spaced}.${part}`
}

/** Five significant digits, as a person writes a number: "0.0012", "1.5·10⁻⁷". */
export function plain(value: number, digits = 5): string {
  if (!Number.isFinite(value)) return NO_VALUE
  const [factor, exponent] = value.toExponential(digits - 1).split('e')
  const power = Number(exponent)
  if (value === 0 || (power >= -4 && power <= 6)) return signed(String(Number(value.toPrecision(digits))))
  return `${signed(String(Number(factor)))}·10${raised(power)}`
}

function signed(text: string): string {
  return text.replace('-', MINUS)
}

function raised(power: number): string {
  return Array.from(String(power), (one) => (one === '-' ? '⁻' : '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(one)]!)).join('')
}

/** Multiples of a step with just the decimals that tell them apart: steps of 0.025 need three. */
export function formatStep(value: number, step: number): string {
  for (let decimals = 0; decimals < MOST_STEP_DECIMALS; decimals++)
    if (Math.abs(step - Number(step.toFixed(decimals))) < step * 1e-6) return fixed(value, decimals)
  return fixed(value, MOST_STEP_DECIMALS)
}

/** Whole counts: packets, faults. */
export function formatCount(count: number): string {
  return grouped(String(Math.round(count)))
}

/** Sizes of memory in MB (10⁶ B). */
export function formatMegabytes(bytes: number): string {
  return `${Math.round(bytes / 1e6)} MB`
}
