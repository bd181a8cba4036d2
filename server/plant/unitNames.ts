import { allUnits, findUnit, isConvertible, type Unit } from '../wire/units.ts'

/**
 * What people write for a unit: its UCUM code, its printed form, or one of the usual spellings below. Only what has one meaning on
 * a power plant is taken; what has two ("C", "m3", "gpm", "hp") is not guessed.
 */
const SPELLINGS: Readonly<Record<string, string>> = {
  rpm: '{rpm}',
  'r/min': '/min',
  '1/min': '/min',
  'min-1': '/min',
  'U/min': '/min',
  'rev/min': '/min',
  'rad/sec': 'rad/s',
  degC: 'Cel',
  celsius: 'Cel',
  Celsius: 'Cel',
  degF: '[degF]',
  degrees: 'deg',
  degree: 'deg',
  percent: '%',
  ft: '[ft_i]',
  in: '[in_i]',
  psi: '[psi]',
  psig: '[psi]',
  barg: 'bar',
  mH2O: 'm[H2O]',
  mWC: 'm[H2O]',
  mwc: 'm[H2O]',
  'l/s': 'L/s',
  lps: 'L/s',
  'l/min': 'L/min',
  lpm: 'L/min',
  l: 'L',
  'm^3': 'm3',
  'm^3/s': 'm3/s',
  'm^3/h': 'm3/h',
  'm3/hr': 'm3/h',
  cumec: 'm3/s',
  cumecs: 'm3/s',
  'm^2': 'm2',
  Nm: 'N.m',
  kNm: 'kN.m',
  watt: 'W',
  KW: 'kW',
  kw: 'kW',
  kwh: 'kW.h',
  KWh: 'kW.h',
  KWH: 'kW.h',
  kW·h: 'kW.h',
  VAr: 'var',
  VAR: 'var',
  kVAr: 'kvar',
  kVAR: 'kvar',
  KVAR: 'kvar',
  VArh: 'var.h',
  VARh: 'var.h',
  kVArh: 'kvar.h',
  kVARh: 'kvar.h',
  MVAr: 'Mvar',
  MVArh: 'Mvar.h',
  KVA: 'kV.A',
  kva: 'kV.A',
  volt: 'V',
  volts: 'V',
  amp: 'A',
  amps: 'A',
  ohm: 'Ohm',
  ohms: 'Ohm',
  hz: 'Hz',
  HZ: 'Hz',
  sec: 's',
  hr: 'h',
  hrs: 'h',
  μm: 'um',
  µm: 'um',
}

const BY_SPELLING = new Map<string, Unit>([
  ...allUnits.filter(({ print }) => print !== '').map((unit) => [unit.print, unit] as const),
  ...Object.entries(SPELLINGS).flatMap(([text, code]) => {
    const unit = findUnit(code)
    return unit ? [[text, unit] as const] : []
  }),
])

/** The usual spellings, for the reference. */
export const spellings: Readonly<Record<string, string>> = SPELLINGS

/** The unit with this UCUM code, or that people write so. */
export function unitNamed(text: string): Unit | undefined {
  return findUnit(text) ?? BY_SPELLING.get(text.trim())
}

/** The code of the unit that people write so; a text that names none stays as it is, for the fault that quotes it. */
export function codeOfUnit(text: string): string {
  return unitNamed(text)?.code ?? text
}

const MOST_HINTS = 3

/** Codes of the units that a text comes nearest to, at most three; of those like `like` where it is given. */
export function nearUnits(text: string, like?: Unit): string[] {
  const wanted = plainly(text)
  if (wanted === '') return []
  const units = new Map<string, number>()
  for (const [name, unit] of [...allUnits.map((one) => [one.code, one] as const), ...BY_SPELLING]) {
    if (like && !isConvertible(unit, like)) continue
    const away = distance(wanted, plainly(name))
    if (away <= Math.floor(wanted.length / 3)) units.set(unit.code, Math.min(away, units.get(unit.code) ?? 9))
  }
  return [...units]
    .sort(([, a], [, b]) => a - b)
    .slice(0, MOST_HINTS)
    .map(([code]) => code)
}

/** Without what people put between the parts of a unit. */
function plainly(text: string): string {
  return text
    .slice(0, 20)
    .toLowerCase()
    .replaceAll(/[^a-z0-9%/°µ]/g, '')
}

/** Least number of letters to put in, take out or change (Levenshtein 1966). */
export function distance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const next = [i]
    for (let j = 1; j <= b.length; j++)
      next.push(Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1)))
    row = next
  }
  return row[b.length]!
}
