import { systemClock as clock } from './clock.ts'
import { dataFolderOf, plantFilesOf, startSimulator } from './demo.ts'
import { startHeadrace } from './headrace.ts'
import { openHistory } from './history/openHistory.ts'
import { openBroker } from './ingest/openBroker.ts'
import { takeLastFault } from './lastResort.ts'
import { launchPage } from './launchPage.ts'
import type { Options } from './options.ts'
import { readPlantFiles, watchPlantFiles } from './plantFiles.ts'
import { runUntilSignal } from './runUntilSignal.ts'
import { openState, StartRefused } from './state/openState.ts'

/** Gives the real edges to the composition (headrace.ts: the watch, and the page side beside it) and follows the plant files. */
async function run(options: Options): Promise<() => Promise<void>> {
  const files = plantFilesOf(options)
  const read = readPlantFiles(files)
  if ('complaints' in read) throw new StartRefused(read.complaints.join('\n'))
  const folder = dataFolderOf(options)
  const state = openState(folder.path)
  const lastFault = takeLastFault(folder.path)
  if (lastFault)
    console.error(`The run before this one ended by itself: ${lastFault.message} (last-fault-told.json)`)
  const headrace = await startHeadrace({
    clock,
    options,
    plants: read.plants,
    state,
    lastFault,
    history: openHistory({
      folder: folder.history,
      clock,
      largestGb: options.historySize,
      onNotice: console.error,
    }),
    broker: openBroker(options, clock),
    ...(options.demo ? { simulate: (mqttUrl: string) => startSimulator(mqttUrl, files) } : {}),
    launchPage,
    tell: console.log,
  })
  const stopFollowing = watchPlantFiles(files, clock, (result) => {
    if ('plants' in result) headrace.watch.replacePlants(result.plants)
    else console.error(`${result.complaints.join('\n')}\nThe plants run on as they were.`)
  })
  console.log(`Headrace is at ${headrace.url}`)

  return async () => {
    stopFollowing()
    await headrace.close()
    state.close()
  }
}

runUntilSignal(run)
