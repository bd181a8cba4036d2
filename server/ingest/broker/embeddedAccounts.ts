import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'
import { parse } from 'yaml'
import { z } from 'zod'
import { createLockOut } from '../../access/lockOut.ts'
import { networkOf } from '../../hosts.ts'
import { readSmallFile } from '../../readSmallFile.ts'

const prefixes = z.array(z.string().min(1).max(200)).default([])

const account = z.strictObject({
  user: z.string().min(1).max(64),
  /** "sha256:…" of a password that a program made: it is too long to guess, so that a plain hash of it is enough. */
  password: z.string().regex(/^sha256:[0-9a-f]{64}$/, { error: 'expected "sha256:" and 64 hex digits' }),
  publish: prefixes,
  subscribe: prefixes,
  clientId: z.string().min(1).max(64).exactOptional(),
})

const accountsFile = z.strictObject({ accounts: z.array(account).min(1).max(1000) })

/** A thing at the broker inside: what it is called, and under which beginnings of topics it may publish and subscribe. */
export type MqttAccount = z.output<typeof account>

/** What a client of the broker may do; an empty beginning is all. */
export type MqttRights = Pick<MqttAccount, 'publish' | 'subscribe'>

const EVERYTHING: MqttRights = { publish: [''], subscribe: [''] }

/** @throws {Error} with one sentence that says where, what came and what was expected. */
export function readAccounts(file: string): MqttAccount[] {
  const fail = (text: string) => new Error(`the MQTT accounts file ${file} cannot be used: ${text}`)
  let document: unknown
  try {
    document = parse(readSmallFile(file), { logLevel: 'error' })
  } catch (error) {
    throw fail(error instanceof Error ? error.message.split('\n')[0]! : String(error))
  }
  const read = accountsFile.safeParse(document)
  if (!read.success) {
    const [{ path, message } = { path: [], message: '' }] = read.error.issues
    throw fail(`at ${path.join('.') || 'its top'}: ${message}`)
  }
  const { accounts } = read.data
  const twice = accounts.find(({ user }, i) => accounts.findIndex((one) => one.user === user) < i)
  if (twice) throw fail(`the user "${twice.user}" stands in it twice`)
  return accounts
}

/** A new password, and the lines for the accounts file that know it only by its hash. */
export function newAccount(user: string): { password: string; lines: string } {
  const password = randomBytes(18).toString('base64url')
  const lines = [
    `  - user: ${JSON.stringify(user)}`,
    `    password: sha256:${hashOf(password)}`,
    '    publish: []      # beginnings of topics, e.g. [mill/]',
    '    subscribe: []',
  ].join('\n')
  return { password, lines }
}

export interface Credentials {
  /** Who asks; wrong passwords are counted by it. */
  address: string
  clientId: string
  user: string
  password: string | Buffer
}

/** Who is let in at the broker. */
export interface Doorkeeper {
  /** What whoever sends this may do; undefined where it is wrong, or too many wrong ones came from there. */
  rightsOf(sent: Credentials): MqttRights | undefined
}

interface DoorSettings {
  user?: string | undefined
  password?: string | undefined
  accounts: readonly MqttAccount[]
}

/** Clients remembered that logged in before; they are not kept out by the wrong passwords of others at their address. */
const MOST_KNOWN = 1000

export function createDoorkeeper({ user, password, accounts }: DoorSettings, mono: () => number): Doorkeeper {
  const isOpen = !user && !password && accounts.length === 0
  const lockOut = createLockOut(mono)
  const known = new Set<string>()

  function find({ user: name, password: sent, clientId }: Credentials): MqttRights | undefined {
    if ((user || password) && isEqual(user ?? '', name) && isEqual(password ?? '', sent)) return EVERYTHING
    const found = accounts.find((one) => one.user === name)
    // For a user who is not there too, so that both take alike.
    const isRight = isEqual(found?.password ?? '', `sha256:${hashOf(sent)}`)
    if (!found || !isRight || (found.clientId !== undefined && found.clientId !== clientId)) return undefined
    return found
  }

  return {
    rightsOf(sent) {
      if (isOpen) return EVERYTHING
      const { user: name, clientId } = sent
      const address = networkOf(sent.address)
      const device = JSON.stringify([address, name, clientId])
      const attempt = { name: address, address, device: known.has(device) ? device : undefined }
      if (lockOut.waitMs(attempt) > 0) return undefined
      lockOut.failed(attempt)
      const rights = find(sent)
      if (!rights) return undefined
      lockOut.undo(attempt, true)
      known.delete(device)
      known.add(device)
      if (known.size > MOST_KNOWN) known.delete(known.values().next().value!)
      return rights
    },
  }
}

/** Whether a topic, or all that a filter matches, begins as one of these. */
export function isUnder(topic: string, beginnings: readonly string[]): boolean {
  return beginnings.some((beginning) => topic.startsWith(beginning))
}

function hashOf(secret: string | Buffer): string {
  return createHash('sha256').update(secret).digest('hex')
}

/** In constant time. */
function isEqual(a: string | Buffer, b: string | Buffer): boolean {
  return timingSafeEqual(Buffer.from(hashOf(a)), Buffer.from(hashOf(b)))
}
