import { createPasswords } from '../../server/access/passwords.ts'
import type { Certificate } from '../../server/certificate.ts'
import type { PageEdges, PageEvents, PageProcess } from '../../server/edges.ts'
import { type Headrace, startHeadrace } from '../../server/headrace.ts'
import type { OpenBroker } from '../../server/ingest/openBroker.ts'
import type { LivePlant } from '../../server/livePlant.ts'
import type { Tell } from '../../server/log.ts'
import { type Options, readOptions } from '../../server/options.ts'
import type { PageSide } from '../../server/pageSide.ts'
import type { Plant } from '../../server/plant/plant.ts'
import { deriveSpan } from '../../server/rederive/deriveSpan.ts'
import { runPage } from '../../server/runPage.ts'
import { openPeople, openState, type State } from '../../server/state/openState.ts'
import { enterMachine } from './accessBench.ts'
import { GENEROUS, type Limits } from './limits.ts'
import { type ManualClock, manualClock, START } from './manualClock.ts'
import { type MemoryBroker, memoryBroker } from './memoryBroker.ts'
import { memoryStore } from './memoryHistory.ts'
import type { Readable } from './readableHistory.ts'
import { scratchFolder } from './scratch.ts'
import { trialThread } from './trialThread.ts'

export interface TestHeadrace extends Headrace {
  clock: ManualClock
  /** Of memory; there is none where the test brought its own. */
  broker: MemoryBroker
  /** Rows of the watch. */
  state: State
  /** Rows of people. */
  people: State
  pageSide: PageSide
  /** What the server wrote on its console. */
  notices: string[]
  live(plant: string): LivePlant
  /** Cookie of a browser that came in by the address on the console. */
  machine: string
  /** The same folder opened by another server; history starts empty. */
  restart(options?: Partial<Options>): Promise<void>
}

/** The rights of a machine that runs nothing but the demo: whoever sits at it may do everything. */
export const DEMO = { demo: true, plants: [] }

export interface TestHeadraceOptions {
  plants: readonly Plant[]
  start?: number
  options?: Partial<Options>
  /** Opened on the clock of the server, which stands still. */
  certificate?: (clock: ManualClock) => Certificate
  /** By default one in memory that answers at once. */
  history?: Readable
  /** By default one of memory, which delivers what the test gives it. */
  broker?: (clock: ManualClock) => OpenBroker
  /** By default so much that no test meets them by chance. */
  limits?: Limits
}

/**
 * The whole server over edges of memory: messages are delivered by the test, time stands still until it is told to go
 * on, rows lie in a scratch folder. Requests and sockets go over a real port. Watch and page side have one thread, but every
 * message between them is cloned as between two processes.
 */
export async function testHeadrace(wish: TestHeadraceOptions): Promise<TestHeadrace> {
  const { plants, start = START, limits = GENEROUS } = wish
  const folder = scratchFolder()
  const notices: string[] = []
  const tell: Tell = (text, _level, cause) => void notices.push(cause ? `${text}: ${cause}` : text)
  const clock = manualClock(start)
  const one = { clock, notices, live, restart, close } as TestHeadrace

  async function open(options: Partial<Options>): Promise<void> {
    one.state = openState(folder.path)
    one.people = openPeople(folder.path)
    const memory = memoryBroker()
    const history = wish.history ?? memoryStore()
    one.broker = memory
    const running = await startHeadrace({
      clock,
      options: { ...readOptions([], {}), plants: ['test.yaml'], demo: false, httpPort: 0, ...options },
      plants,
      state: one.state,
      history,
      deriver: {
        derive: (task, write) => deriveSpan(task, history, write),
        close: async () => {},
      },
      broker: wish.broker?.(clock) ?? memory,
      certificate: wish.certificate?.(clock),
      tell,
      launchPage: (events) =>
        pageBeside(events, {
          open: (options) => ({
            clock,
            options,
            people: one.people,
            watched: one.state,
            history,
            limits,
            tell,
            passwords: createPasswords({ N: 2, r: 1, p: 1 }),
            trialThread,
          }),
          onOpen(pageSide) {
            one.pageSide = pageSide
          },
        }),
    })
    stopRunning = running.close
    one.watch = running.watch
    one.url = running.url
    one.machine = enterMachine({ access: one.pageSide.access, notices })
  }

  let stopRunning = async () => {}

  function live(plant: string): LivePlant {
    const found = one.watch.plants.get(plant)
    if (!found) throw new Error(`no plant ${plant}`)
    return found
  }

  async function stop(): Promise<void> {
    await stopRunning()
    one.state.close()
    one.people.close()
  }

  async function restart(options = wish.options ?? {}): Promise<void> {
    await stop()
    await open(options)
  }

  async function close(): Promise<void> {
    await stop()
    folder.remove()
  }

  await open(wish.options ?? {})
  return one
}

interface PageBeside {
  open(options: PageEdges['options']): PageEdges
  onOpen(pageSide: PageSide): void
}

/** A page side in this process at the end of a channel of memory. */
function pageBeside(events: PageEvents, { open, onOpen }: PageBeside): PageProcess {
  const waiting: (() => void)[] = []
  let isEnded = false
  const end = (how: string) => {
    if (isEnded) return
    isEnded = true
    events.ended(how)
  }
  // The first word of the page side comes when the watch holds its process.
  queueMicrotask(() => {
    const page = runPage({
      open,
      onOpen,
      post: (message) => !isEnded && events.message(structuredClone(message)),
      onClosed: () => end('closed'),
    })
    take = page.take
    for (const one of waiting.splice(0)) one()
  })
  let take = (message: Parameters<PageProcess['post']>[0]): void => void waiting.push(() => take(message))
  return {
    post: (message) => !isEnded && take(structuredClone(message)),
    kill: () => end('killed'),
  }
}
