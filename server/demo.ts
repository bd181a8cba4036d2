import { fork } from 'node:child_process'
import { existsSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { createInterface } from 'node:readline'
import type { Readable } from 'node:stream'
import { fileURLToPath } from 'node:url'
import type { Tell } from './log.ts'

/** The three fictional plants of the demo and the program that plays them. */
export const DEMO_SITES = ['quennerby', 'ostrelby', 'skelderwath']

/** Folder of the repository, both from the sources and from dist/. */
export const ROOT = (() => {
  const here = dirname(fileURLToPath(import.meta.url))
  return existsSync(join(here, '..', 'package.json')) ? join(here, '..') : join(here, '..', '..')
})()

/** The demo's plant files, where it is asked for, and those that were named. */
export function plantFilesOf({ demo, plants }: { demo: boolean; plants: readonly string[] }): string[] {
  const sites = demo ? DEMO_SITES.map((site) => join(ROOT, 'simulator', 'sites', `${site}.yaml`)) : []
  return [...sites, ...plants]
}

/** Where everything is stored; what the demo stores lies apart from a real plant's. */
export function dataFolderOf({ demo, data }: { demo: boolean; data: string }): {
  path: string
  history: string
} {
  const path = demo && data === 'data' ? join('data', 'demo') : data
  return { path, history: join(path, 'history') }
}

/**
 * Starts the simulator as a process of its own that publishes like any foreign client. It is started again when
 * it dies (at most every 5 s) and ends with the server.
 */
export function startSimulator(mqttUrl: string, files: readonly string[], tell: Tell): { stop(): void } {
  const isSource = import.meta.url.endsWith('.ts')
  const entry = fileURLToPath(new URL(`../simulator/main.${isSource ? 'ts' : 'js'}`, import.meta.url))
  const args = [...files.flatMap((file) => ['--plant', file]), '--mqtt-url', mqttUrl]
  let isStopping = false
  let timer: NodeJS.Timeout | undefined
  let child = start()

  function start() {
    const started = fork(entry, args, {
      execArgv: isSource ? ['--import', 'tsx'] : process.execArgv,
      stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    })
    follow(started.stdout!, (line) => tell(line))
    follow(started.stderr!, (line) => tell(line, 'error'))
    started.on('exit', (code) => {
      if (isStopping) return
      tell(`The simulator ended (code ${code}); it is started again in 5 s.`, 'warn')
      timer = setTimeout(() => {
        child = start()
      }, 5000)
    })
    return started
  }

  return {
    stop() {
      isStopping = true
      clearTimeout(timer)
      child.kill('SIGTERM')
    },
  }
}

function follow(output: Readable, take: (line: string) => void): void {
  createInterface({ input: output }).on('line', take)
}
