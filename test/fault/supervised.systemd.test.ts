import { type ChildProcess, execFile, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, expect, it } from 'vitest'
import { THREE_SENSORS } from '../support/plants.ts'
import { until } from '../support/publisher.ts'
import { root } from '../support/root.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

/** In place of systemd: what is sent to its socket, one state a line. Perl is on every Debian (perl-base); Node has no such sockets. */
const LISTENER = `
use Socket;
socket(my $s, PF_UNIX, SOCK_DGRAM, 0) or die $!;
bind($s, sockaddr_un($ARGV[0])) or die $!;
$| = 1;
print "bound\\n";
while (defined(recv($s, my $m, 4096, 0))) { print "$m\\n" }
`
/** A third of it is a second. */
const WATCHDOG_USEC = 3_000_000

const scratch = scratchFolder()
const running: { listener?: ChildProcess; server?: ServerProcess } = {}
afterAll(async () => {
  running.server?.process.kill('SIGCONT')
  await running.server?.stop()
  running.listener?.kill()
  scratch.remove()
})

// States and variables: sd_notify(3), sd_watchdog_enabled(3).
it('tells systemd that it is ready, gives signs of life, and none while it is blocked', async () => {
  const socket = join(scratch.path, 'notify')
  const listener = spawn('perl', ['-e', LISTENER, socket], { stdio: ['ignore', 'pipe', 'inherit'] })
  running.listener = listener
  let heard = ''
  listener.stdout!.setEncoding('utf8').on('data', (chunk: string) => {
    heard += chunk
  })
  await once(listener.stdout!, 'data')
  const signs = () => heard.split('\n').filter((line) => line === 'WATCHDOG=1').length
  Object.assign(process.env, { NOTIFY_SOCKET: socket, WATCHDOG_USEC: String(WATCHDOG_USEC) })
  const plant = scratch.file('mill.yaml', THREE_SENSORS)
  running.server = await startServer([
    '--plant',
    plant,
    '--data',
    `${scratch.path}/data`,
    '--http-port',
    '0',
    '--mqtt-port',
    '0',
  ])
  delete process.env['NOTIFY_SOCKET']
  delete process.env['WATCHDOG_USEC']
  const server = running.server
  await until(
    async () => heard,
    (text) => text.includes('READY=1'),
    20_000,
  )
  await until(
    async () => signs(),
    (count) => count >= 3,
    20_000,
  )

  server.process.kill('SIGSTOP')
  // Whoever was just sending comes to its end.
  await new Promise((resolve) => setTimeout(resolve, 1500))
  const known = signs()
  await new Promise((resolve) => setTimeout(resolve, WATCHDOG_USEC / 1000 + 1500))
  expect(signs()).toBe(known)

  server.process.kill('SIGCONT')
  await until(
    async () => signs(),
    (count) => count > known,
    20_000,
  )
  expect(await server.stop()).toBe(0)
  await until(
    async () => heard,
    (text) => text.includes('STOPPING=1'),
  )
}, 90_000)

it('comes with a unit file that systemd has no complaint about', async () => {
  // Only the program is looked for on this machine: its place is made up here.
  const program = join(scratch.path, 'node')
  writeFileSync(program, '', { mode: 0o755 })
  const unit = readFileSync(join(root, 'server/packaging/headrace.service'), 'utf8')
  const folder = join(scratch.path, 'units')
  mkdirSync(folder)
  const file = join(folder, 'headrace.service')
  writeFileSync(file, unit.replace('/usr/bin/node', program))
  const { stdout, stderr } = await promisify(execFile)('systemd-analyze', ['verify', '--man=no', file]).catch(
    (error: { stdout: string; stderr: string }) => error,
  )
  expect(`${stdout}${stderr}`.split('\n').filter((line) => line.includes('headrace.service'))).toEqual([])
}, 30_000)
