import { execFile } from 'node:child_process'
import { root } from '../root.ts'
import { FAILED_WHOLE, SKIPPED_WHOLE, type Tally } from './tally.ts'

const LIMIT_MS = 30_000
const GRAVE = ['high', 'critical']

/** What `npm audit --json` says, as far as it is read here. */
interface AuditReport {
  vulnerabilities?: Record<string, { name: string; severity: string; range: string }>
  message?: string
  error?: { summary?: string }
}

/**
 * Asks the registry for known advisories on what is shipped. High and critical ones fail; where it offers none, or there is no
 * network, nothing was checked, which is said and counts as skipped.
 */
export async function askForAdvisories(): Promise<Tally> {
  const args = ['audit', '--omit=dev', '--json', '--fetch-retries=0', `--fetch-timeout=${LIMIT_MS / 2}`]
  const { sentences, tally } = judgeAudit(await outputOf('npm', args))
  for (const sentence of sentences) console.log(sentence)
  return tally
}

/** @param text What npm wrote; empty where it could not be asked. */
export function judgeAudit(text: string): { sentences: string[]; tally: Tally } {
  const { vulnerabilities, message, error } = parsed(text)
  if (!vulnerabilities) {
    const reason = message || error?.summary || 'npm gave no answer'
    return {
      sentences: [`No advisories could be had (${reason}): nothing was checked.`],
      tally: SKIPPED_WHOLE,
    }
  }
  const found = Object.values(vulnerabilities)
  const grave = found.filter(({ severity }) => GRAVE.includes(severity))
  return {
    sentences: [
      ...found.map(({ name, severity, range }) => `${name} ${range}: ${severity}`),
      `${found.length} packages with known advisories, ${grave.length} of them high or critical.`,
    ],
    tally: grave.length > 0 ? FAILED_WHOLE : { ...SKIPPED_WHOLE, passed: 1, skipped: 0 },
  }
}

function parsed(text: string): AuditReport {
  try {
    return JSON.parse(text) as AuditReport
  } catch {
    return {}
  }
}

/** What a program writes, whichever way it ends. */
function outputOf(command: string, args: string[]): Promise<string> {
  const shell = process.platform === 'win32'
  return new Promise((resolve) => {
    execFile(
      command,
      args,
      { cwd: root, timeout: LIMIT_MS, maxBuffer: 50_000_000, shell },
      (_error, stdout) => resolve(stdout),
    )
  })
}
