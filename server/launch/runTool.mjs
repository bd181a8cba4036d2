import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'

/** Root of the repository. */
export const root = fileURLToPath(new URL('../../', import.meta.url))

/** A tool that failed, told in one sentence; its own output is already on the terminal. */
export class ToolFault extends Error {}

/**
 * Runs one tool in the repository root with its output on this terminal.
 *
 * @param {string} what For the sentence on failure, e.g. "The web build (vite)".
 * @throws {ToolFault} when it cannot be started, ends with a code other than 0, or is stopped by a signal.
 */
export function runTool(what, command, args) {
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, { cwd: root, stdio: 'inherit', shell: needsShell(command) })
    const stopping = ['SIGTERM', 'SIGHUP']
    const pass = (signal) => child.kill(signal)
    for (const signal of stopping) process.once(signal, pass)
    const settle = (fault) => {
      for (const signal of stopping) process.off(signal, pass)
      fault ? reject(new ToolFault(fault)) : resolve()
    }
    child.on('error', (error) => settle(`${what} could not be started: ${error.message}`))
    child.on('close', (code, signal) => {
      if (signal) settle(`${what} was stopped by ${signal}`)
      else settle(code === 0 ? undefined : `${what} failed with exit code ${code}`)
    })
  })
}

/** On Windows npm is a command file, which only a shell can run. */
function needsShell(command) {
  return process.platform === 'win32' && command === 'npm'
}
