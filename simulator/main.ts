import type { Plant } from '../server/plant/plant.ts'
import { createLive } from './live.ts'
import { HELP, type Options, readOptions } from './options.ts'
import { createMqttLink } from './publish/mqttLink.ts'
import { createSite, type Site } from './site.ts'
import { readSite } from './siteFile.ts'

const TICK_MS = 20

const options = readOptions(process.argv.slice(2))
if ('fault' in options) refuse([options.fault])
else if (options.help) console.log(HELP)
else start(options)

function start(options: Options): void {
  const plants = readPlants(options.plants)
  if (plants) play(plants, options)
}

function readPlants(paths: readonly string[]): Plant[] | undefined {
  const results = paths.map(readSite)
  const faults = results.flatMap((result) => ('faults' in result ? result.faults : []))
  const plants = results.flatMap((result) => ('plant' in result ? [result.plant] : []))
  const twice = plants.find((plant, i) => plants.findIndex((other) => other.id === plant.id) < i)
  if (twice) faults.push(`--plant: ${twice.id} is given twice, expected each plant once`)
  if (faults.length === 0) return plants
  refuse(faults)
  return undefined
}

function play(plants: readonly Plant[], { seed, scenario, speed, mqttUrl }: Options): void {
  const sites = plants.map((plant) => createSite(plant.id, { plant, seed }))
  for (const site of scenario === undefined ? [] : sites) {
    const fault = site.command('scenario', scenario!)
    if (fault !== undefined) report(fault)
  }
  const link = createMqttLink({
    url: mqttUrl,
    topics: plants.flatMap((plant) => (plant.simulation?.controls ?? []).map((control) => control.topic)),
    onCommand: (topic, payload) => obey(sites, topic, payload),
    onConnect: () => {
      for (const site of sites) site.resend()
    },
    report,
  })
  const live = createLive({
    sites,
    publish: link.publish,
    speed,
    mono: () => performance.now(),
    now: () => Date.now(),
    report,
  })
  const timer = setInterval(live.tick, TICK_MS)
  report(`Plays ${plants.map((plant) => plant.name).join(', ')}.`)

  const stop = () => {
    clearInterval(timer)
    // Whoever asks twice, or a broker that does not answer, ends it the hard way.
    setTimeout(() => process.exit(0), 2000).unref()
    void link.close().finally(() => process.exit(0))
  }
  process.once('SIGINT', stop)
  process.once('SIGTERM', stop)
  // Started by a server: nobody is left to play for when it dies.
  process.once('disconnect', stop)
}

function obey(sites: readonly Site[], topic: string, payload: string): void {
  const site = sites.find(({ plant }) => plant.simulation?.controls.some((one) => one.topic === topic))
  const fault = site?.receive(topic, payload)
  if (fault !== undefined) report(fault)
}

function report(sentence: string): void {
  console.log(`simulator: ${sentence}`)
}

function refuse(sentences: readonly string[]): void {
  for (const sentence of sentences) console.error(`simulator: ${sentence}`)
  process.exitCode = 1
}
