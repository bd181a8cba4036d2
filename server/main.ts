import { join } from 'node:path'
import { openNotify } from './alarms/notify/openNotify.ts'
import { createAlarmStores } from './alarms/stores.ts'
import { systemClock as clock } from './clock.ts'
import { plantFilesOf, startSimulator } from './demo.ts'
import { createCounterStore } from './derive/counterStore.ts'
import { createHealth } from './health.ts'
import { openHistory } from './history/openHistory.ts'
import { createRecorder } from './history/recorder.ts'
import { createIngest } from './ingest/ingest.ts'
import { openBroker } from './ingest/openBroker.ts'
import { createLivePlant, type LivePlant, type LivePlantOptions, replaceLivePlants } from './livePlant.ts'
import type { Options } from './options.ts'
import { startPageServer } from './pageServer.ts'
import { readPlantFiles, watchPlantFiles } from './plantFiles.ts'
import { createMqttOut } from './push/mqttOut.ts'
import { runUntilSignal } from './runUntilSignal.ts'
import { openState, StartRefused } from './state/openState.ts'
import { createTrials } from './trials/trials.ts'

/** Composition: readings come in at the top, figures go out at the bottom, and everything is closed in reverse. */
async function run(options: Options): Promise<() => Promise<void>> {
  const files = plantFilesOf(options)
  const read = readPlantFiles(files)
  if ('complaints' in read) throw new StartRefused(read.complaints.join('\n'))
  const folder = options.demo && options.data === 'data' ? join('data', 'demo') : options.data
  const state = openState(folder)
  const history = openHistory({ folder: join(folder, 'history'), clock, onNotice: console.error })
  const notify = openNotify(options, { state, clock, plants: () => plants, broker: () => broker })
  const { journal, events, flood } = createAlarmStores(state, notify.alongside)
  const recorder = createRecorder(history)
  const counts = { transitions: 0, evaluations: 0 }

  const broker = openBroker(options, clock)
  const mqttOut = options.publishFigures ? createMqttOut(broker) : undefined
  const live: LivePlantOptions = {
    ...{ journal, events, flood },
    counterStore: createCounterStore(state),
    mono: clock.mono,
    onTransition(plant, alarm, entry) {
      counts.transitions++
      page?.hub.alarm(plant, alarm)
      mqttOut?.alarm(plant, alarm, entry)
    },
  }
  const plants = new Map<string, LivePlant>(
    read.plants.map((plant) => [plant.id, createLivePlant(plant, live)]),
  )
  const trials = createTrials({ state, clock, plants: () => plants })
  const ingest = createIngest({
    plants: read.plants,
    broker,
    clock,
    listUnmapped: options.mqttUrl === null,
    onReading(reading) {
      plants.get(reading.plant)?.takeReading(reading)
      recorder.takeReading(reading)
      trials.takeReading(reading)
    },
  })
  let page: Awaited<ReturnType<typeof startPageServer>> | undefined
  const stages = { clock, broker, ingest, history, recorder, journal, notify, state, counts }
  const health = createHealth({ ...stages, hub: () => page?.hub, access: () => page?.access })
  broker.onStatus((status) => {
    for (const one of plants.values()) one.setConnected(status.connected)
  })
  await broker.start()
  const simulator = options.demo ? startSimulator(broker.url(), files) : undefined
  await history.open()
  const stored = { history, journal, events, trials }
  page = await startPageServer(
    { ...stored, plants: () => plants, notify, broker, health: health.reply, now: clock.now },
    { options, clock, state, surroundings: { source: broker.status, health: health.line } },
  )
  notify.start(page.url)

  const stopTick = clock.every(options.tickMs, () => {
    const now = clock.now()
    counts.evaluations++
    for (const one of plants.values()) page.hub.tick(one, one.tick(now))
  })
  const stopSecond = clock.every(1000, () => {
    for (const one of plants.values()) {
      recorder.takeFigures(one)
      one.counters.save()
      mqttOut?.figures(one)
    }
    recorder.handOver()
    health.tick()
  })
  const stopWatching = watchPlantFiles(files, clock, (result) => {
    if ('complaints' in result)
      return console.error(`${result.complaints.join('\n')}\nThe plants run on as they were.`)
    replaceLivePlants(plants, result.plants, live)
    ingest.replacePlants(result.plants)
    for (const id of plants.keys()) page.hub.plantChanged(id)
    console.log('The plant files changed and were read again.')
  })
  console.log(`Headrace is at ${page.url}`)

  return async () => {
    stopTick()
    stopSecond()
    stopWatching()
    simulator?.stop()
    await notify.close()
    await broker.close()
    for (const one of plants.values()) one.close()
    recorder.handOver()
    await page.close()
    await history.close()
    state.close()
  }
}

runUntilSignal(run)
