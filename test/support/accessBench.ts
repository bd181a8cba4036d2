import type { IncomingMessage } from 'node:http'
import { type Access, type AccessOptions, openAccess } from '../../server/access/openAccess.ts'
import { createPasswords } from '../../server/access/passwords.ts'
import { openPeople, type State } from '../../server/state/openState.ts'
import type { Role } from '../../server/wire/access.ts'
import { type ManualClock, manualClock, START } from './manualClock.ts'
import { scratchFolder } from './scratch.ts'

export const BENCH_PASSWORD = 'correct horse battery'
/** Where the tests sit. */
export const BENCH_PLACE = { address: 'bench' }

export interface AccessBench {
  access: Access
  clock: ManualClock
  state: State
  /** What the server wrote on its console. */
  notices: string[]
  /** The code that was told last. */
  setUpCode(): string
  /** Cookie of a browser that came in by the address on the console. */
  machine(): string
  /** Makes a user, as `addPerson`. */
  person(name: string, role: Role): Promise<string>
  /** The same folder opened again, as after a restart. */
  restart(options?: Partial<BenchOptions>): void
  close(): void
}

type BenchOptions = AccessOptions['options']

const PLAIN: BenchOptions = {
  demo: false,
  plants: ['a.yaml'],
  openReading: false,
  newSetupCode: false,
  httpHost: '127.0.0.1',
  pageName: null,
  publicUrl: null,
}

/** Access on a folder of its own, a clock that stands still, and passwords that cost next to nothing. */
export function accessBench(given: Partial<BenchOptions> = {}): AccessBench {
  const folder = scratchFolder()
  const clock = manualClock(START)
  const notices: string[] = []
  const open = (options: Partial<BenchOptions>) => {
    bench.state = openPeople(folder.path)
    bench.access = openAccess({
      state: bench.state,
      clock,
      options: { ...PLAIN, ...options },
      onNotice: (text) => notices.push(text),
      passwords: createPasswords({ N: 2, r: 1, p: 1 }),
    })
    bench.access.announce('http://127.0.0.1:8080')
  }
  const bench: AccessBench = {
    ...({} as Pick<AccessBench, 'access' | 'state'>),
    clock,
    notices,
    setUpCode: () => setUpCodeIn(notices),
    machine: () => enterMachine(bench),
    person: (name, role) => addPerson(bench, name, role),
    restart(options = given) {
      bench.access.close()
      bench.state.close()
      open(options)
    },
    close() {
      bench.access.close()
      bench.state.close()
      folder.remove()
    },
  }
  open(given)
  return bench
}

/**
 * Makes a user with BENCH_PASSWORD; the first is made with the set-up code, as in life.
 *
 * @returns the token of a session.
 */
export async function addPerson(
  { access, notices }: Pick<AccessBench, 'access' | 'notices'>,
  name: string,
  role: Role,
): Promise<string> {
  const { signIn, administer } = access
  const isFirst = administer.list().length === 0
  const wish = { name: isFirst ? 'First' : name, password: BENCH_PASSWORD, ...BENCH_PLACE }
  if (isFirst) {
    const first = await signIn.withSetUpCode({ ...wish, code: setUpCodeIn(notices) })
    if (!first.ok) throw new Error(first.error)
    if (name === 'First') return first.value.token
  }
  const added = administer.add(name, role)
  if (!added.ok) throw new Error(added.error)
  const signed = await signIn.withCode({ ...wish, name, code: added.value.code })
  if (!signed.ok) throw new Error(signed.error)
  return signed.value.token
}

function setUpCodeIn(notices: readonly string[]): string {
  return /Set-up code (\S+):/.exec(notices.findLast((one) => one.includes('code ')) ?? '')![1]!
}

/** A request as far as access looks at it. */
export function requestFrom(
  remoteAddress: string,
  { token, headers = {} }: { token?: string; headers?: Record<string, string> } = {},
): IncomingMessage {
  const cookie = token === undefined ? {} : { cookie: `other=1; headrace=${token}` }
  return {
    headers: { host: '127.0.0.1:8080', ...cookie, ...headers },
    socket: { remoteAddress },
  } as unknown as IncomingMessage
}

/** The address for a browser on this machine that was told last, as it is used; @returns its cookie. */
export function enterMachine({ access, notices }: Pick<AccessBench, 'access' | 'notices'>): string {
  const code = notices
    .map((text) => /\/enter\/(\S+)/.exec(text)?.[1])
    .findLast((found) => found !== undefined)
  const outcome = access.machine.enter(
    requestFrom('127.0.0.1', { headers: { host: '127.0.0.1:8080' } }),
    code!,
  )
  if (!outcome.ok) throw new Error(outcome.error)
  return `headrace=${outcome.value}`
}
