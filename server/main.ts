import { openCertificate } from './certificate.ts'
import { systemClock as clock } from './clock.ts'
import type { ConsoleLog } from './consoleLog.ts'
import { dataFolderOf, plantFilesOf, startSimulator } from './demo.ts'
import { startHeadrace } from './headrace.ts'
import { openHistory } from './history/openHistory.ts'
import { openBroker } from './ingest/openBroker.ts'
import { takeLastFault } from './lastResort.ts'
import { pageLauncher } from './launchPage.ts'
import type { Options } from './options.ts'
import type { Plant } from './plant/plant.ts'
import { describeDoubts, readPlantFiles } from './plantFiles.ts'
import { createPlantFollower, readPlantFilesAside } from './plantReader.ts'
import { createDeriver } from './rederive/deriver.ts'
import { refusePlainLines } from './requireTls.ts'
import { runUntilSignal } from './runUntilSignal.ts'
import { openState, StartRefused } from './state/openState.ts'
import { createSupervisor } from './supervisor.ts'
import { watchFiles } from './watchFiles.ts'

/** Gives the real edges to the composition (headrace.ts: the watch, and the page side beside it) and follows the plant files. */
async function run(options: Options, { tell, queue }: ConsoleLog): Promise<() => Promise<void>> {
  refusePlainLines(options)
  const files = plantFilesOf(options)
  const read = readPlantFiles(files)
  if ('complaints' in read) throw new StartRefused(read.complaints.join('\n'))
  const tellDoubts = (plants: readonly Plant[]) => {
    for (const doubt of describeDoubts(plants)) tell(doubt, 'warn')
  }
  tellDoubts(read.plants)
  const certificate = openCertificate(options, { clock, tell })
  const folder = dataFolderOf(options)
  const state = openState(folder.path)
  const lastFault = takeLastFault(folder.path)
  if (lastFault)
    tell(`The run before this one ended by itself: ${lastFault.message} (last-fault-told.json)`, 'warn')
  const supervisor = createSupervisor({
    environment: process.env,
    pid: process.pid,
    clock,
    tell: (sentence) => tell(sentence, 'warn'),
  })
  const history = openHistory({
    folder: folder.history,
    clock,
    largestGb: options.historySize,
    onNotice: (sentence) => tell(sentence, 'warn'),
  })
  const headrace = await startHeadrace({
    clock,
    options,
    plants: read.plants,
    state,
    lastFault,
    history,
    deriver: createDeriver(history.lane),
    certificate,
    broker: openBroker(options, { clock, tell, certificate, folder: folder.path }),
    ...(options.demo ? { simulate: (mqttUrl: string) => startSimulator(mqttUrl, files, tell) } : {}),
    launchPage: pageLauncher(options.log, tell),
    tell,
    logQueue: queue,
  })
  const follower = createPlantFollower(
    () => readPlantFilesAside(files),
    (result) => {
      if ('plants' in result) {
        tellDoubts(result.plants)
        return headrace.watch.replacePlants(result.plants)
      }
      headrace.watch.refusePlants(result.complaints)
    },
  )
  const stopFollowing = watchFiles(files, clock, follower.changed)
  tell(`Headrace is at ${headrace.url}`)
  supervisor.ready(headrace.watch.health.progress)

  return async () => {
    supervisor.stopping()
    stopFollowing()
    follower.close()
    await headrace.close()
    state.close()
  }
}

runUntilSignal(run)
