type Version = readonly [major: number, minor: number, patch: number]

/**
 * True where a Node version lies in a range as package.json writes it in `engines`: comparators, "^", "~",
 * plain and partial versions, joined by spaces (and) and "||" (or). No hyphen ranges, no pre-releases.
 *
 * @throws {RangeError} for a range that it cannot read: better than a wrong answer.
 */
export function isInRange(version: string, range: string): boolean {
  return range.split('||').some((part) =>
    part
      .trim()
      .replace(/([<>=^~]+)\s+/g, '$1')
      .split(/\s+/)
      .every((comparator) => holds(parse(version), comparator)),
  )
}

const COMPARATOR = /^(>=|<=|>|<|=|\^|~)?v?(\d+|x|\*)?(?:\.(\d+|x|\*))?(?:\.(\d+|x|\*))?$/i

function holds(version: Version, comparator: string): boolean {
  const match = COMPARATOR.exec(comparator)
  if (!match) throw new RangeError(`cannot read the version range "${comparator}"`)
  const given = match
    .slice(2)
    .filter((part) => part !== undefined && /^\d+$/.test(part))
    .map(Number)
  if (given.length === 0) return true
  const low: Version = [given[0]!, given[1] ?? 0, given[2] ?? 0]
  switch (match[1]) {
    case '>=':
      return compare(version, low) >= 0
    case '>':
      return compare(version, given.length < 3 ? after(low, given.length) : low) >= (given.length < 3 ? 0 : 1)
    case '<':
      return compare(version, low) < 0
    case '<=':
      return given.length < 3 ? compare(version, after(low, given.length)) < 0 : compare(version, low) <= 0
    case '^':
      return compare(version, low) >= 0 && version[0] === low[0]
    case '~':
      return compare(version, low) >= 0 && compare(version, after(low, Math.min(given.length, 2))) < 0
    default:
      return given.every((part, i) => version[i] === part)
  }
}

/** The first version beyond all that begin with the first `digits` numbers. */
function after(version: Version, digits: number): Version {
  return digits === 1 ? [version[0] + 1, 0, 0] : [version[0], version[1] + 1, 0]
}

function parse(version: string): Version {
  const [major = 0, minor = 0, patch = 0] = version.split('.').map(Number)
  return [major, minor, patch]
}

function compare(a: Version, b: Version): number {
  return a[0] - b[0] || a[1] - b[1] || a[2] - b[2]
}
