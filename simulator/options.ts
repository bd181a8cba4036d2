import { parseArgs } from 'node:util'
import { scenarios } from './scenarios/index.ts'
import { BUNDLED, siteFile } from './siteFile.ts'

export interface Options {
  /** Plant files. */
  plants: string[]
  scenario: string | undefined
  /** Plant seconds per second. */
  speed: number
  seed: number
  mqttUrl: string
  help: boolean
}

const FASTEST = 1000

export const HELP = `Plays simulated hydropower plants and publishes their instruments over MQTT.

  --plant FILE      plant file with "simulated: true"; may be repeated   default: the three bundled plants
  --scenario NAME   ${scenarios.map((one) => one.id).join(', ')}
  --speed X         plant seconds per second, above 0 up to ${FASTEST}           default: 1
  --seed N          number of the run; the same gives the same noise     default: 1
  --mqtt-url URL    broker, mqtt:// or mqtts://                          default: mqtt://127.0.0.1:1883
  --help            this text

Time stamps are wall clock at any speed. Ctrl-C stops it.`

/** @returns The options, or one sentence that says which of them is wrong. */
export function readOptions(argv: readonly string[]): Options | { fault: string } {
  let values: ReturnType<typeof parse>
  try {
    values = parse(argv)
  } catch (error) {
    return { fault: `${(error as Error).message.split('\n')[0]} (see --help)` }
  }
  const { plant: plants = BUNDLED.map(siteFile), scenario, help } = values
  const speed = Number(values.speed)
  const seed = Number(values.seed)
  const mqttUrl = values['mqtt-url']
  const names = scenarios.map((one) => one.id)
  if (scenario !== undefined && !names.includes(scenario))
    return { fault: `--scenario: found "${scenario}", expected one of ${names.join(', ')}` }
  if (!(speed > 0 && speed <= FASTEST))
    return { fault: `--speed: found "${values.speed}", expected a number above 0 up to ${FASTEST}` }
  if (!Number.isSafeInteger(seed) || seed < 0)
    return { fault: `--seed: found "${values.seed}", expected a whole number from 0` }
  if (!isBrokerUrl(mqttUrl))
    return { fault: `--mqtt-url: found "${mqttUrl}", expected an address such as mqtt://127.0.0.1:1883` }
  return { plants, scenario, speed, seed, mqttUrl, help }
}

function parse(argv: readonly string[]) {
  return parseArgs({
    args: [...argv],
    options: {
      plant: { type: 'string', multiple: true },
      scenario: { type: 'string' },
      speed: { type: 'string', default: '1' },
      seed: { type: 'string', default: '1' },
      'mqtt-url': { type: 'string', default: 'mqtt://127.0.0.1:1883' },
      help: { type: 'boolean', default: false },
    },
  }).values
}

function isBrokerUrl(text: string): boolean {
  try {
    const { protocol, host } = new URL(text)
    return ['mqtt:', 'mqtts:', 'ws:', 'wss:'].includes(protocol) && host !== ''
  } catch {
    return false
  }
}
