import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { ToPage, ToWatch } from './channel/messages.ts'
import type { LaunchPage, PageEvents, PageProcess } from './edges.ts'
import type { LogFormat, Tell } from './log.ts'

/**
 * glibc keeps a stock of freed memory for each of the dozen threads of a process; the page side, where nearly all is done by one,
 * does with one for all, and is 7 MB smaller. Others than glibc know no such setting.
 */
const ONE_ARENA = { MALLOC_ARENA_MAX: '1' }

/** @returns what starts the page side (page.ts) as a process of its own, with a log of its own on the same console. */
export function pageLauncher(log: LogFormat, tell: Tell): LaunchPage {
  return (events) => launchPage(events, log, tell)
}

function launchPage({ message, ended }: PageEvents, log: LogFormat, tell: Tell): PageProcess {
  const isSource = import.meta.url.endsWith('.ts')
  const child = fork(fileURLToPath(new URL(`./page.${isSource ? 'ts' : 'js'}`, import.meta.url)), [log], {
    serialization: 'advanced',
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    execArgv: isSource ? ['--import', 'tsx'] : process.execArgv,
    env: { ...withoutSecrets(process.env), ...ONE_ARENA },
  })
  let isEnded = false
  const end = (how: string) => {
    if (isEnded) return
    isEnded = true
    ended(how)
  }
  child.on('message', (one) => message(one as ToWatch))
  child.on('error', (error) => end(error.message))
  child.on('exit', (code, signal) => end(signal === null ? `exit code ${code}` : `signal ${signal}`))
  return {
    post(one: ToPage) {
      try {
        // A channel that breaks while this is under way tells by the end of the process.
        if (child.connected) child.send(one, () => {})
      } catch (error) {
        tell('watch: a message could not be sent to the page side, which is ended', 'error', error)
        child.kill('SIGKILL')
      }
    },
    kill: () => void child.kill('SIGKILL'),
  }
}

/** What the page side needs comes over the channel; passwords of broker and messages stay with the watch. */
function withoutSecrets(environment: NodeJS.ProcessEnv): NodeJS.ProcessEnv {
  return Object.fromEntries(Object.entries(environment).filter(([name]) => !name.startsWith('HEADRACE_')))
}
