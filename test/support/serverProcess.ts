import { type ChildProcess, spawn } from 'node:child_process'
import { root } from './root.ts'

/** A built server in a process of its own, as users run it. */
export interface ServerProcess {
  /** e.g. "http://127.0.0.1:41234". */
  url: string
  process: ChildProcess
  /** Everything that it has written so far, stdout and stderr. */
  output(): string
  /** Sends the signal, and SIGKILL when that has not ended it within 10 s; resolves with its exit code. */
  stop(signal?: NodeJS.Signals): Promise<number | null>
}

const START_LIMIT_MS = 60_000
const STOP_LIMIT_MS = 10_000
/**
 * Of those that came in by the address on the console of each server. Browsers have one of their own: who signs in
 * gives it up.
 */
const cookies = new Map<string, string>()
const browserCookies = new Map<string, string>()

/** With these nobody can come in by an address on the console. */
const HIDES_ENTRY = ['--page-name', '--public-url']
const READY = /Headrace is at (https?:\/\/[^\s"]+)/

/**
 * Starts dist/server/main.js with these arguments and waits until it says where it is. Give `--http-port 0`,
 * a folder of your own as `--data`, and `--mqtt-port 0` or `--mqtt-url`.
 *
 * @throws {Error} with its output when it ends, or is not ready within 60 s.
 */
export function startServer(args: readonly string[]): Promise<ServerProcess> {
  const child = spawn(process.execPath, ['--max-semi-space-size=2', 'dist/server/main.js', ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let text = ''
  let isReady = false
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve))
  const stop = async (signal: NodeJS.Signals = 'SIGTERM') => {
    child.kill(signal)
    const timer = setTimeout(() => child.kill('SIGKILL'), STOP_LIMIT_MS)
    const code = await ended
    clearTimeout(timer)
    return code
  }
  return new Promise((resolve, reject) => {
    const refuse = (why: string) => reject(new Error(`the server ${why}; it wrote:\n${text}`))
    const timer = setTimeout(() => {
      refuse(`was not ready within ${START_LIMIT_MS / 1000} s`)
      void stop()
    }, START_LIMIT_MS)
    const read = (chunk: string) => {
      text += chunk
      const url = READY.exec(text)?.[1]
      if (!url || isReady) return
      isReady = true
      clearTimeout(timer)
      const isOffered = !args.some((arg) => HIDES_ENTRY.includes(arg))
      void pageSpoke(() => text, isOffered)
        .then(() => enter(url, () => text))
        .then(() => resolve({ url, process: child, output: () => text, stop }), reject)
    }
    child.stdout.setEncoding('utf8').on('data', read)
    child.stderr.setEncoding('utf8').on('data', read)
    child.once('error', (error) => refuse(`could not be started: ${error.message}`))
    void ended.then((code) => {
      clearTimeout(timer)
      refuse(`ended with exit code ${code} before it was ready`)
    })
  })
}

/**
 * The two processes of a server write to one console, in no order: what the page side says at its start may come after the
 * address. Where there are users it may have nothing to say.
 */
async function pageSpoke(text: () => string, isOffered: boolean): Promise<void> {
  const words = isOffered ? '/enter/' : 'Set-up code'
  const most = isOffered ? 250 : 25
  for (let i = 0; i < most && !text().includes(words); i++)
    await new Promise((resolve) => setTimeout(resolve, 20))
}

/** Uses the addresses that the server tells on its console, as a person at its machine does: for programs, then for browsers. */
async function enter(url: string, text: () => string): Promise<void> {
  // What a program needs to trust the certificate of a test is not here.
  if (!url.startsWith('http:')) return
  const newest = () => [...text().matchAll(/\/enter\/([\w-]+)/g)].at(-1)?.[1]
  for (const held of [cookies, browserCookies]) {
    const code = newest()
    if (!code) return
    const answer = await fetch(`${url}/enter/${code}`, { redirect: 'manual' })
    held.set(url, answer.headers.get('set-cookie')!.split(';')[0]!)
    // The next address comes with the answer, over another channel.
    for (let i = 0; i < 100 && newest() === code; i++) await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

/** What a browser sends that came in at the machine of this server; nothing where none could. */
export function browserCookie(url: string): string | undefined {
  return browserCookies.get(new URL(url).origin)
}

/** Asks a built server as somebody at its machine. */
export function fetchHere(url: string, init: RequestInit = {}): Promise<Response> {
  const cookie = cookies.get(new URL(url).origin)
  return fetch(url, { ...init, headers: { ...(cookie ? { cookie } : {}), ...init.headers } })
}
