/** The oldest Node that every dependency still accepts; the same as `engines` in package.json (test/shape). */
export const OLDEST_NODE = [20, 19]

/** The sentence to show when `version` (as in `process.versions.node`) is too old, or undefined when it will do. */
export function nodeVersionFault(version) {
  const [major, minor] = version.split('.').map(Number)
  const [oldestMajor, oldestMinor] = OLDEST_NODE
  if (major > oldestMajor || (major === oldestMajor && minor >= oldestMinor)) return undefined
  return `Headrace needs Node ${OLDEST_NODE.join('.')} or newer, this is ${version}`
}
