import { statSync } from 'node:fs'
import { parse } from 'yaml'
import { printFault, readDocument } from '../../plant/load.ts'
import { readSmallFile } from '../../readSmallFile.ts'
import { StartRefused } from '../../state/openState.ts'
import { needsSecret } from './channels/index.ts'
import { NO_SETTINGS, type NotifySettings, notifyFileSchema } from './settings.ts'

/** @throws {StartRefused} with every fault by path and line. */
export function readNotifyFile(file: string | null): NotifySettings {
  if (file === null) return NO_SETTINGS
  const read = readDocument(readText(file), notifyFileSchema)
  if ('value' in read) return read.value
  throw new StartRefused(read.faults.map((fault) => printFault(file, fault)).join('\n'))
}

/** What --check prints for a notification file that is in order: first the secrets that its channels would miss. */
export function describeNotify(
  file: string,
  { channels, recipients, rules }: NotifySettings,
  secrets: Secrets,
): string {
  const lacking = channels.filter((channel) => needsSecret(channel) && secrets(channel.id) === undefined)
  return [
    ...lacking.map(
      ({ id }) =>
        `${file}: missing: the secret of channel "${id}": found nothing, expected it in the environment as ${variableOf(id)}, or as "${id}: …" in the file of --notify-secrets; the server does not start without`,
    ),
    `${file}: ${lacking.length === 0 ? 'in order' : 'in order but for secrets (above)'}. ${rules.length} rules, ${recipients.length} recipients`,
    ...recipients.map(({ name, by }) => `    ${name}: ${by.map((way) => way.channel).join(', ')}`),
    ...channels.map(({ id, kind }) => `    channel ${id}: ${kind}`),
  ].join('\n')
}

/** How the names of secrets in the environment begin. */
const VARIABLE = 'HEADRACE_NOTIFY_SECRET_'

/** Password or key of a channel; they are shown nowhere. */
export type Secrets = (channel: string) => string | undefined

/**
 * From the environment, e.g. HEADRACE_NOTIFY_SECRET_MAIL for the channel "mail", or from a YAML file that only the
 * server may read, with one line for each channel: "mail: …".
 *
 * @throws {StartRefused} when the file cannot be used; what is in it is never part of the sentence.
 */
export function readSecrets(file: string | null, environment: NodeJS.ProcessEnv): Secrets {
  const fromFile = file === null ? {} : secretsOf(file)
  return (channel) => {
    const value = environment[variableOf(channel)] ?? fromFile[channel]
    return value === undefined || value === '' ? undefined : value
  }
}

/** Every secret that is in the file or the environment, whether or not a channel uses it. @throws {StartRefused} */
export function listSecrets(file: string | null, environment: NodeJS.ProcessEnv): string[] {
  const fromFile = file === null ? [] : Object.values(secretsOf(file))
  const named = Object.entries(environment).filter(([name]) => name.startsWith(VARIABLE))
  return [...fromFile, ...named.map(([, value]) => value ?? '')]
}

/** @returns a sentence where other accounts of this machine may read the file. */
export function readableByOthers(file: string): string | undefined {
  const mode = statSync(file, { throwIfNoEntry: false })?.mode ?? 0
  if ((mode & 0o044) === 0) return undefined
  return `${file} holds secrets, and other accounts of this machine may read it: chmod 600 ${file}`
}

/** A variable of the environment. */
function variableOf(channel: string): string {
  return `${VARIABLE}${channel.toUpperCase().replaceAll('-', '_')}`
}

function secretsOf(file: string): Record<string, string> {
  const text = readText(file)
  let content: unknown
  try {
    content = parse(text)
  } catch {
    content = undefined
  }
  const isMapping = content !== null && typeof content === 'object' && !Array.isArray(content)
  if (!isMapping || Object.values(content as object).some((value) => typeof value !== 'string'))
    throw new StartRefused(`${file}: expected one line for each channel, such as "mail: the password".`)
  return content as Record<string, string>
}

function readText(file: string): string {
  try {
    return readSmallFile(file)
  } catch (error) {
    throw new StartRefused(`${file}: cannot be read: ${error instanceof Error ? error.message : error}`)
  }
}
