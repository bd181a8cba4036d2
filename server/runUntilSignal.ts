import mqttPacket from 'mqtt-packet'
import { describeNotify, readableByOthers, readNotifyFile } from './alarms/notify/notifyFile.ts'
import { backUp } from './backup/backUp.ts'
import { restore } from './backup/restore.ts'
import { dataFolderOf, plantFilesOf } from './demo.ts'
import { newAccount } from './ingest/broker/embeddedAccounts.ts'
import { keepHeapSmall } from './keepHeapSmall.ts'
import { createLastResort } from './lastResort.ts'
import { describeOptions, type Options, readOptions } from './options.ts'
import { describeCheck, readPlantFiles } from './plantFiles.ts'
import { StartRefused } from './state/openState.ts'

/** Everything is written and closed within this time, or the process ends anyway. */
const STOP_LIMIT_MS = 10_000

/**
 * Reads the options, runs the server until SIGINT or SIGTERM, then stops it. A failure that a person can mend is
 * one sentence on stderr, anything else keeps its stack; the exit code is 1 for both.
 *
 * @param run Starts everything; resolves to the function that stops it.
 */
export function runUntilSignal(run: (options: Options) => Promise<() => Promise<void>>): void {
  start(run).catch(fail)
}

async function start(run: (options: Options) => Promise<() => Promise<void>>): Promise<void> {
  const options = readOptions(process.argv.slice(2), process.env)
  if (options.help) return console.log(describeOptions())
  if (options.check) return check(options)
  if (options.newMqttAccount !== null) return tellAccount(options.newMqttAccount)
  // What is written from here on is nobody else's to read.
  process.umask(0o077)
  if (options.backup !== null) return console.log(await backUp(options.backup, options))
  if (options.restore !== null) return console.log(await restore(options.restore, dataFolderOf(options).path))
  warnOfOpenSecrets(options)
  keepMemoryLow()
  let stop = async () => {}
  const onFault = createLastResort({
    folder: dataFolderOf(options).path,
    now: Date.now,
    stop: () => stop(),
    exit: process.exit,
    tell: console.error,
    limitMs: STOP_LIMIT_MS,
  })
  process.on('uncaughtException', onFault)
  process.on('unhandledRejection', onFault)
  stop = await run(options)
  let isStopping = false
  const end = () => {
    if (isStopping) return
    isStopping = true
    setTimeout(() => process.exit(1), STOP_LIMIT_MS).unref()
    stop().then(() => process.exit(0), fail)
  }
  process.on('SIGINT', end)
  process.on('SIGTERM', end)
}

function warnOfOpenSecrets({ notifySecrets, mqttAccounts }: Options): void {
  const files = [notifySecrets, mqttAccounts].filter((file) => file !== null)
  for (const sentence of files.map(readableByOthers)) if (sentence !== undefined) console.error(sentence)
}

/** --check: every fault, or what would be subscribed and derived. */
function check(options: Options): void {
  const read = readPlantFiles(plantFilesOf(options))
  if ('complaints' in read) throw new StartRefused(read.complaints.join('\n'))
  for (const plant of read.plants) console.log(describeCheck(plant))
  if (options.notify !== null) console.log(describeNotify(options.notify, readNotifyFile(options.notify)))
}

/** --new-mqtt-account: the only moment at which the password is shown. */
function tellAccount(user: string): void {
  const { password, lines } = newAccount(user)
  console.log(
    `Password for the device: ${password}\nLines for the file of --mqtt-accounts, below "accounts:":\n${lines}`,
  )
}

function fail(error: unknown): never {
  console.error(error instanceof StartRefused ? error.message : error)
  process.exit(1)
}

/** The MQTT codec keeps a buffer for each of 65,536 numbers. Call before the first connection. */
function keepMemoryLow(): void {
  keepHeapSmall()
  mqttPacket.writeToStream.cacheNumbers = false
}
