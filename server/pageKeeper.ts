import { createAnswering } from './channel/answering.ts'
import { PAGE_OPTIONS, type PageOptions, type ToWatch } from './channel/messages.ts'
import type { Answers } from './channel/questions.ts'
import type { Edges, PageProcess } from './edges.ts'
import type { Options } from './options.ts'
import { StartRefused } from './state/openState.ts'
import type { Watch } from './watch.ts'

/**
 * Keeps a page side beside the watch: starts it, gives it what it needs, and starts it again when it ends. The process is
 * started at once, since it takes a while to load.
 */
export interface PageKeeper {
  /** Lets it serve. @returns the address of the page. @throws {StartRefused} where it cannot be served. */
  open(): Promise<string>
  close(): Promise<void>
}

/** Before it is started again [ms]; doubled each time it ends soon, so that a broken one costs the watch little. */
const FIRST_PAUSE_MS = 250
const LONGEST_PAUSE_MS = 2000
/** Serving for this long shows that it works [ms]. */
const PROVEN_MS = 10_000
/** A page side that does not serve by then is ended [ms]. */
const START_LIMIT_MS = 60_000
/** One that takes nothing in for so long is ended: its loop has stopped [ms]. */
const SILENCE_LIMIT_MS = 60_000
const LOOK_MS = 5000
/** A page side that was asked to end is ended after this long [ms]. */
const CLOSE_LIMIT_MS = 5000

interface Running {
  process: PageProcess
  answer: ReturnType<typeof createAnswering>
  stopWaiting(): void
  isHere: boolean
  servesSince: number | null
  heardAt: number
}

type PageKeeperEdges = Pick<Edges, 'clock' | 'options' | 'launchPage' | 'tell' | 'certificate' | 'history'>

export function createPageKeeper(
  { feed }: Pick<Watch, 'feed'>,
  answers: Answers,
  { clock, options: allOptions, launchPage, tell, certificate, history }: PageKeeperEdges,
): PageKeeper {
  let options = { ...pageOptionsOf(allOptions), historyLane: history.lane }
  let running: Running | undefined
  let pauseMs = FIRST_PAUSE_MS
  let cancelRestart = () => {}
  let isClosing = false
  let mayServe = false
  let hasServed = false
  let onServing: (url: string) => void = () => {}
  let onRefused: (refusal: StartRefused) => void = () => {}
  let onEnded = () => {}
  const stopLooking = clock.every(LOOK_MS, lookForSilence)
  const stopRenewing = certificate?.onChange((pair) => running?.process.post({ kind: 'certificate', pair }))

  function lookForSilence(): void {
    if (!running || running.servesSince === null) return
    if (clock.mono() - running.heardAt >= SILENCE_LIMIT_MS) running.process.kill()
  }

  function launch(): void {
    const isRunning = () => running?.process === process
    const process = launchPage({
      message: (message) => void (isRunning() && take(running!, message)),
      ended: (how) => void (isRunning() && ended(how)),
    })
    running = {
      process,
      answer: createAnswering(answers, process.post, tell),
      stopWaiting: clock.after(START_LIMIT_MS, process.kill),
      isHere: false,
      servesSince: null,
      heardAt: clock.mono(),
    }
  }

  function take(one: Running, message: ToWatch): void {
    one.heardAt = clock.mono()
    if (message.kind === 'here') {
      one.isHere = true
      begin()
    } else if (message.kind === 'open') serves(one, message.url)
    else if (message.kind === 'refused') onRefused(new StartRefused(message.sentence))
    else if (message.kind === 'taken') feed.taken(message.tick)
    else void one.answer(message)
  }

  function begin(): void {
    if (!mayServe || !running?.isHere) return
    const pair = certificate?.pair() ?? null
    running.process.post({ kind: 'start', options: { ...options, certificate: pair } })
    feed.open(running.process.post)
  }

  function serves(one: Running, url: string): void {
    one.stopWaiting()
    one.servesSince = clock.mono()
    hasServed = true
    // Whoever comes next takes the same port, and tells no new set-up code.
    options = { ...options, httpPort: portOf(url), newSetupCode: false }
    if (isClosing) return
    onRefused = (refusal) => {
      tell(`${refusal.message} The watch goes on; it is tried again.`, 'error')
      running?.process.kill()
    }
    onServing(url)
  }

  function ended(how: string): void {
    const { servesSince = null } = running ?? {}
    running?.stopWaiting()
    running = undefined
    feed.close()
    onEnded()
    if (isClosing) return
    if (!mayServe) return
    if (!hasServed) onRefused(new StartRefused(`The page side could not be started (${how}).`))
    if (!hasServed) return
    if (servesSince !== null && clock.mono() - servesSince >= PROVEN_MS) pauseMs = FIRST_PAUSE_MS
    tell(
      `The page side ended (${how}). The watch goes on; the page comes back in ${pauseMs / 1000} s.`,
      'error',
    )
    cancelRestart = clock.after(pauseMs, launch)
    pauseMs = Math.min(LONGEST_PAUSE_MS, 2 * pauseMs)
  }

  launch()
  return {
    open: () =>
      new Promise((resolve, reject) => {
        onServing = resolve
        onRefused = reject
        mayServe = true
        if (running) begin()
        else ended('before it was needed')
      }),
    close: () =>
      new Promise((resolve) => {
        isClosing = true
        cancelRestart()
        stopLooking()
        stopRenewing?.()
        if (!running) return resolve()
        const { process } = running
        const cancel = clock.after(CLOSE_LIMIT_MS, process.kill)
        onEnded = () => {
          cancel()
          resolve()
        }
        process.post({ kind: 'close' })
      }),
  }
}

/** A URL leaves the usual one out. */
function portOf(url: string): number {
  const { port, protocol } = new URL(url)
  return Number(port || (protocol === 'https:' ? 443 : 80))
}

function pageOptionsOf(options: Options): Omit<PageOptions, 'certificate' | 'historyLane'> {
  return Object.fromEntries(PAGE_OPTIONS.map((name) => [name, options[name]])) as Pick<
    Options,
    (typeof PAGE_OPTIONS)[number]
  >
}
