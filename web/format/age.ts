const SECOND = 1000
const MINUTE = 60 * SECOND
const HOUR = 60 * MINUTE
const DAY = 24 * HOUR

/** Measurements stamped further ahead of the server than this [ms] are called out. */
const AHEAD_MS = 2000

/** A length of time, in the two largest units that still say something: "14 s", "2 h 05 min", "3 d 4 h". */
export function durationWords(ms: number): string {
  if (ms < MINUTE) return `${Math.floor(ms / SECOND)} s`
  if (ms < 10 * MINUTE) return pair(ms, [MINUTE, 'min'], [SECOND, 's'])
  if (ms < HOUR) return `${Math.floor(ms / MINUTE)} min`
  if (ms < DAY) return pair(ms, [HOUR, 'h'], [MINUTE, 'min'])
  return pair(ms, [DAY, 'd'], [HOUR, 'h'])
}

type Step = [length: number, name: string]

const ROUGH: Step[] = [
  [DAY, 'd'],
  [HOUR, 'h'],
  [MINUTE, 'min'],
  [SECOND, 's'],
]

function pair(ms: number, [large, largeName]: Step, [small, smallName]: Step): string {
  const whole = Math.floor(ms / large)
  const rest = Math.floor((ms - whole * large) / small)
  return `${whole} ${largeName} ${String(rest).padStart(2, '0')} ${smallName}`
}

/** How old a measurement is. Null: nothing was ever measured. */
export function ageWords(at: number | null, now: number, words = durationWords): string {
  if (at === null) return 'never'
  const age = now - at
  if (age < -AHEAD_MS) return `${words(-age)} ahead`
  return words(Math.max(0, age))
}

/** A length of time in its largest unit, for a narrow column: "14 s", "4 min", "2 h". */
export function roughDuration(ms: number): string {
  const [length, name] = ROUGH.find(([step]) => ms >= step) ?? ROUGH.at(-1)!
  return `${Math.floor(ms / length)} ${name}`
}

/** The same in a sentence: "14 s ago", "never received". */
export function agoWords(at: number | null, now: number): string {
  if (at === null) return 'never received'
  const words = ageWords(at, now)
  return words.endsWith('ahead') ? `stamped ${words}` : `${words} ago`
}
