import { type ChildProcess, execFile, spawn } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { type AddressInfo, createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { toolPath } from './tools.ts'

const START_LIMIT_MS = 10_000

export interface MosquittoOptions {
  /** Default: a free one. */
  port?: number
  /** Default: everybody may connect. */
  login?: { user: string; password: string }
}

/** A broker of Debian's package, in its own process, that keeps nothing over a restart. */
export interface Mosquitto {
  port: number
  url: string
  /** Ends it without a goodbye, as a power cut would. */
  kill(): Promise<void>
  /** Begins again on the same port after `kill`. */
  restart(): Promise<void>
  /** Ends it and removes its files. */
  close(): Promise<void>
}

export async function startMosquitto({ port, login }: MosquittoOptions = {}): Promise<Mosquitto> {
  const folder = mkdtempSync(join(tmpdir(), 'headrace-mosquitto-'))
  const listenOn = port ?? (await freePort())
  const config = join(folder, 'mosquitto.conf')
  const access = login ? await passwordFile(folder, login) : ['allow_anonymous true']
  const lines = [
    `listener ${listenOn} 127.0.0.1`,
    'persistence false',
    'log_dest stderr',
    ...userLine(),
    ...access,
  ]
  writeFileSync(config, lines.join('\n'))
  let child = await launch(config)
  const kill = () => end(child)
  return {
    port: listenOn,
    url: `mqtt://127.0.0.1:${listenOn}`,
    kill,
    async restart() {
      child = await launch(config)
    },
    async close() {
      await kill()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** A port that nobody listens on at this moment. */
export function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo
      server.close(() => resolve(port))
    })
  })
}

/** Started as root it would change to a user that may not read our files. */
function userLine(): string[] {
  return process.getuid?.() === 0 ? ['user root'] : []
}

async function passwordFile(folder: string, { user, password }: { user: string; password: string }) {
  const file = join(folder, 'passwords')
  writeFileSync(file, `${user}:${password}\n`, { mode: 0o600 })
  await promisify(execFile)('mosquitto_passwd', ['-U', file])
  return ['allow_anonymous false', `password_file ${file}`]
}

function launch(config: string): Promise<ChildProcess> {
  const child = spawn(toolPath('mosquitto')!, ['-c', config], { stdio: ['ignore', 'ignore', 'pipe'] })
  return new Promise((resolve, reject) => {
    let said = ''
    const fail = (why: string) => {
      clearTimeout(limit)
      child.kill('SIGKILL')
      reject(new Error(`mosquitto ${why}: ${said}`))
    }
    const limit = setTimeout(() => fail('did not start in time'), START_LIMIT_MS)
    child.once('exit', () => fail('ended'))
    child.stderr!.setEncoding('utf8').on('data', (text: string) => {
      said += text
      if (!/ running\b/.test(said)) return
      clearTimeout(limit)
      child.removeAllListeners('exit')
      // read on, so that its log never fills the pipe
      child.stderr!.removeAllListeners('data').resume()
      resolve(child)
    })
  })
}

function end(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve()
  return new Promise((resolve) => {
    child.once('exit', () => resolve())
    child.kill('SIGKILL')
  })
}
