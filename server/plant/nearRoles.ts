import { type Role, roles } from './roles.ts'
import { distance } from './unitNames.ts'

/** What the trade also says, by the word that the names of roles have (common practice, no source). */
const SYNONYMS: Readonly<Record<string, string>> = {
  forebay: 'headwater',
  intake: 'headwater',
  upstream: 'headwater',
  upper: 'headwater',
  pond: 'headwater',
  reservoir: 'headwater',
  dam: 'headwater',
  downstream: 'tailwater',
  tailrace: 'tailwater',
  outfall: 'tailwater',
  screen: 'rack',
  trashrack: 'rack',
  flow: 'discharge',
  flowrate: 'discharge',
  debit: 'discharge',
  compensation: 'residual',
  environmental: 'residual',
  ecological: 'residual',
  rpm: 'speed',
  tacho: 'speed',
  tachometer: 'speed',
  rotation: 'speed',
  runner: 'turbine',
  wicket: 'vane',
  guidevane: 'vane',
  gate: 'vane',
  gates: 'vane',
  spear: 'needle',
  nozzle: 'jet',
  miv: 'valve',
  penstock: 'inlet',
  bearings: 'bearing',
  stator: 'winding',
  coil: 'winding',
  temp: 'temperature',
  air: 'ambient',
  room: 'ambient',
  outdoor: 'ambient',
  vib: 'vibration',
  kw: 'power',
  watts: 'power',
  real: 'active',
  true: 'active',
  output: 'active',
  generator: 'active',
  kvar: 'reactive',
  cosphi: 'displacement',
  pf: 'factor',
  hz: 'frequency',
  volts: 'voltage',
  volt: 'voltage',
  amps: 'current',
  amperes: 'current',
  cb: 'breaker',
  contactor: 'breaker',
  kwh: 'energy',
  kvarh: 'reactive',
  mains: 'grid',
  utility: 'grid',
  network: 'grid',
  trip: 'tripped',
  fault: 'tripped',
  soc: 'charge',
  ballast: 'dump',
  diversion: 'dump',
  estop: 'emergency',
  leak: 'floor',
  flood: 'floor',
  rain: 'rainfall',
  precipitation: 'rainfall',
  governor: 'governor',
  own: 'auxiliary',
  lube: 'oil',
  lubrication: 'oil',
  draught: 'draft',
  suction: 'draft',
  house: 'auxiliary',
  station: 'auxiliary',
}

const MOST_ROLES = 6
/** A word that is only nearly that of the role, as by a slip of the pen. */
const NEARLY = 0.7
const SYNONYM = 0.8
/** Words that many things have. */
const GENERAL: ReadonlySet<string> = new Set(['position', 'reading', 'level', 'power', 'pressure', 'on'])
const GENERALLY = 0.6

/** The roles that a name comes nearest to, by its letters, by what the trade also says, and by its words; best first. */
export function nearRoles(text: string): Role[] {
  const name = text.slice(0, 64)
  // "kWh" is one word to people, and two to the letters
  const words = Object.hasOwn(SYNONYMS, name.toLowerCase()) ? [name.toLowerCase()] : wordsOf(name)
  return WORDED.map((one) => ({ role: one.role, score: scoreOf(words, one) }))
    .filter(({ score }) => score > 0)
    .sort((a, b) => b.score - a.score)
    .slice(0, MOST_ROLES)
    .map(({ role }) => role)
}

/** "guideVaneOpening.1" where there may be several of it, else the id alone. */
export function exampleOfRole({ id, many }: Role): string {
  return many ? `${id}.1` : id
}

/** What was meant, as a list of ids for people. */
export function nearestRoles(text: string): string {
  const near = nearRoles(text).map(exampleOfRole)
  return near.length === 0 ? 'see the reference for all of them' : `${near.join(', ')}, …`
}

/** "wicket_gateOpening" → wicket, gate, opening. */
function wordsOf(text: string): string[] {
  return text
    .replaceAll(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z]+/)
    .filter((word) => word.length > 1)
}

interface Worded {
  role: Role
  byId: string[]
  own: string[]
}

const WORDED: readonly Worded[] = roles.map((role) => {
  const byId = wordsOf(role.id)
  return { role, byId, own: [...new Set([...byId, ...wordsOf(role.name)])] }
})

/** How much of the words of the name is in the role, and how much of the role in the name (Dice 1945, by words). */
function scoreOf(words: readonly string[], { byId, own }: Worded): number {
  const found = words.map((word) => matched(word, own))
  const sum = found.reduce((total, one) => total + one, 0)
  const covered = byId.filter((one) => words.some((word) => matched(word, [one]) > 0)).length
  return (sum / Math.max(1, words.length)) * (0.5 + covered / byId.length / 2)
}

function matched(word: string, own: readonly string[]): number {
  if (own.includes(word)) return GENERAL.has(word) ? GENERALLY : 1
  const synonym = Object.hasOwn(SYNONYMS, word) ? SYNONYMS[word]! : undefined
  if (synonym !== undefined && own.includes(synonym)) return SYNONYM
  return own.some((one) => isNearly(word, one)) ? NEARLY : 0
}

function isNearly(word: string, other: string): boolean {
  if (word.length < 4 || other.length < 4) return false
  if (word.startsWith(other) || other.startsWith(word)) return true
  return distance(word, other) <= Math.floor(Math.max(word.length, other.length) / 4)
}
