import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { printFault, readPlant } from '../server/plant/load.ts'
import type { Plant } from '../server/plant/plant.ts'
import { designOf } from './design/design.ts'

/** Plants that the simulator brings with it, by the id of their file. */
export const BUNDLED = ['quennerby', 'ostrelby', 'skelderwath'] as const

/** Path of a bundled plant file, both from the sources and from dist/, which holds no YAML. */
export function siteFile(plantId: string): string {
  const beside = fileURLToPath(new URL(`./sites/${plantId}.yaml`, import.meta.url))
  if (existsSync(beside)) return beside
  return fileURLToPath(new URL(`../../simulator/sites/${plantId}.yaml`, import.meta.url))
}

/** Reads a plant file that the simulator can play, or says in sentences why not. */
export function readSite(path: string): { plant: Plant } | { faults: string[] } {
  let text: string
  try {
    text = readFileSync(path, 'utf8')
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error)
    return { faults: [`The plant file ${path} cannot be read: ${reason}`] }
  }
  const result = readPlant(text, path)
  if ('faults' in result) return { faults: result.faults.map((fault) => printFault(path, fault)) }
  const { plant, lineOf } = result
  if (!plant.simulated)
    return { faults: [`${path}: simulated: found false, expected true: a real plant is never played over`] }
  const built = designOf(plant)
  if ('design' in built) return { plant }
  return {
    faults: built.faults.map((one) => {
      const line = lineOf(one.path)
      return printFault(path, line === undefined ? one : { ...one, line })
    }),
  }
}
