import mqttPacket from 'mqtt-packet'
import {
  describeNotify,
  listSecrets,
  readableByOthers,
  readNotifyFile,
  readSecrets,
} from './alarms/notify/notifyFile.ts'
import { type ConsoleLog, openConsoleLog } from './consoleLog.ts'
import { dataFolderOf, plantFilesOf } from './demo.ts'
import { newAccount } from './ingest/broker/embeddedAccounts.ts'
import { keepHeapSmall } from './keepHeapSmall.ts'
import { createLastResort } from './lastResort.ts'
import type { Tell } from './log.ts'
import { describeOptions, type Options, readOptions } from './options.ts'
import { describeCheck, readPlantFiles } from './plantFiles.ts'
import { printable } from './printable.ts'
import { refusePlainLines } from './requireTls.ts'
import { StartRefused } from './state/openState.ts'

/** Everything is written and closed within this time, or the process ends anyway. */
const STOP_LIMIT_MS = 10_000

/**
 * Reads the options, runs the server until SIGINT or SIGTERM, then stops it. A failure that a person can mend is
 * one sentence on stderr, anything else stands in the log with its stack; the exit code is 1 for both.
 *
 * @param run Starts everything; resolves to the function that stops it.
 */
export function runUntilSignal(run: Run): void {
  start(run).catch((error) => fail(error))
}

type Run = (options: Options, log: ConsoleLog) => Promise<() => Promise<void>>

async function start(run: Run): Promise<void> {
  const options = readOptions(process.argv.slice(2), process.env)
  if (options.help) return console.log(describeOptions())
  if (options.check) return check(options)
  if (options.newMqttAccount !== null) return tellAccount(options.newMqttAccount)
  // What is written from here on is nobody else's to read.
  process.umask(0o077)
  if (options.backup !== null || options.restore !== null) return console.log(await copyData(options))
  const log = openLog(options)
  keepMemoryLow()
  let stop = async () => {}
  const onFault = createLastResort({
    folder: dataFolderOf(options).path,
    now: Date.now,
    stop: () => stop(),
    exit: process.exit,
    tell: log.tell,
    limitMs: STOP_LIMIT_MS,
  })
  process.on('uncaughtException', onFault)
  process.on('unhandledRejection', onFault)
  const failed = (error: unknown) => fail(error, log.tell)
  stop = await run(options, log).catch(failed)
  let isStopping = false
  const end = () => {
    if (isStopping) return
    isStopping = true
    setTimeout(() => process.exit(1), STOP_LIMIT_MS).unref()
    stop().then(() => process.exit(0), failed)
  }
  process.on('SIGINT', end)
  process.on('SIGTERM', end)
}

/** Knows what it must never show, and warns of files in which others may read that. */
function openLog({ log: format, mqttPassword, notifySecrets, mqttAccounts, tlsKey }: Options): ConsoleLog {
  const log = openConsoleLog('watch', format)
  for (const secret of [mqttPassword ?? '', ...listSecrets(notifySecrets, process.env)]) log.hide(secret)
  const files = [notifySecrets, mqttAccounts, tlsKey].filter((file) => file !== null)
  for (const sentence of files.map(readableByOthers)) if (sentence !== undefined) log.tell(sentence, 'warn')
  return log
}

/** --backup, --restore. The engine of history comes in with them alone: the watch has it in a thread of its own. */
async function copyData(options: Options): Promise<string> {
  const { backUp } = await import('./backup/backUp.ts')
  const { restore } = await import('./backup/restore.ts')
  if (options.backup !== null) return backUp(options.backup, options)
  return restore(options.restore!, dataFolderOf(options).path)
}

/** --check: every fault, or what would be subscribed and derived. */
function check(options: Options): void {
  refusePlainLines(options)
  const read = readPlantFiles(plantFilesOf(options))
  if ('plants' in read) for (const plant of read.plants) console.log(describeCheck(plant))
  const complaints = 'complaints' in read ? read.complaints : []
  try {
    if (options.notify !== null) console.log(describeNotifyFile(options.notify, options.notifySecrets))
  } catch (error) {
    if (!(error instanceof StartRefused)) throw error
    complaints.push(error.message)
  }
  if (complaints.length > 0) throw new StartRefused(complaints.join('\n'))
}

function describeNotifyFile(file: string, secrets: string | null): string {
  return describeNotify(file, readNotifyFile(file), readSecrets(secrets, process.env))
}

/** --new-mqtt-account: the only moment at which the password is shown. */
function tellAccount(user: string): void {
  const { password, lines } = newAccount(user)
  console.log(
    `Password for the device: ${password}\nLines for the file of --mqtt-accounts, below "accounts:":\n${lines}`,
  )
}

function fail(error: unknown, tell: Tell = beforeTheLog): never {
  if (error instanceof StartRefused) console.error(error.message.split('\n').map(printable).join('\n'))
  else tell('Headrace could not go on', 'error', error)
  process.exit(1)
}

const beforeTheLog: Tell = (text, _level, cause) => console.error(`${text}:`, cause)

/** The MQTT codec keeps a buffer for each of 65,536 numbers. Call before the first connection. */
function keepMemoryLow(): void {
  keepHeapSmall()
  mqttPacket.writeToStream.cacheNumbers = false
}
