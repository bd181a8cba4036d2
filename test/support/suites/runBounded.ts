import { spawn } from 'node:child_process'
import { root } from '../root.ts'

export interface Bounds {
  limitMs: number
  env?: Record<string, string>
}

export interface Ending {
  /** How it failed, to follow its name: "ended with exit code 2"; undefined when it ended well. */
  fault: string | undefined
}

const GRACE_MS = 5000

/**
 * Runs a program in the repository root with its output on this terminal. After `limitMs` it and everything
 * that it started are ended. When this process is told to stop it ends them likewise, and then itself.
 */
export function runBounded(command: string, args: string[], { limitMs, env = {} }: Bounds): Promise<Ending> {
  return new Promise((resolve) => {
    // its own process group, so that nothing that it started outlives it
    const child = spawn(command, args, {
      cwd: root,
      stdio: ['ignore', 'inherit', 'inherit'],
      env: { ...process.env, ...env },
      detached: true,
    })
    const signalGroup = (signal: NodeJS.Signals) => {
      try {
        if (child.pid !== undefined) process.kill(-child.pid, signal)
      } catch {
        // the group is gone already
      }
    }
    let endedBecause: string | undefined
    const end = (reason: string) => {
      endedBecause ??= reason
      signalGroup('SIGTERM')
      setTimeout(signalGroup, GRACE_MS, 'SIGKILL').unref()
    }
    const timer = setTimeout(end, limitMs, `was ended after ${limitMs / 1000} s`)
    const stop = () => end('was stopped')
    process.on('SIGINT', stop).on('SIGTERM', stop)
    const settle = (fault: string | undefined) => {
      clearTimeout(timer)
      process.off('SIGINT', stop).off('SIGTERM', stop)
      signalGroup('SIGKILL')
      if (endedBecause === 'was stopped') process.exit(1)
      resolve({ fault: endedBecause ?? fault })
    }
    child.on('error', (error) => settle(`could not be started: ${error.message}`))
    child.on('close', (code, signal) => {
      settle(signal ? `was stopped by ${signal}` : code === 0 ? undefined : `ended with exit code ${code}`)
    })
  })
}
