import type { Certificate } from '../certificate.ts'
import type { Clock } from '../clock.ts'
import type { Tell } from '../log.ts'
import type { Options } from '../options.ts'
import { StartRefused } from '../state/openState.ts'
import { type Broker, PRESENCE_TOPIC } from './broker/broker.ts'
import { createEmbeddedBroker } from './broker/embedded.ts'
import { type MqttAccount, readAccounts } from './broker/embeddedAccounts.ts'
import { createExternalPair } from './broker/external.ts'
import { durableIdOf } from './durableId.ts'

/** The broker that the options ask for, and the address under which the simulator of the demo reaches it. */
export type OpenBroker = Broker & { url(): string }

interface BrokerParts {
  clock: Clock
  tell: Tell
  certificate: Certificate | undefined
  /** Data folder. */
  folder: string
}

export function openBroker(options: Options, { clock, tell, certificate, folder }: BrokerParts): OpenBroker {
  const credentials = {
    ...(options.mqttUser === null ? {} : { user: options.mqttUser }),
    ...(options.mqttPassword === null ? {} : { password: options.mqttPassword }),
  }
  const presence = options.publishFigures ? { presenceTopic: PRESENCE_TOPIC } : {}
  const log = (line: string) => tell(line, 'warn')
  if (options.mqttUrl !== null) {
    const url = options.mqttUrl
    const caFile = options.mqttCa === null ? {} : { caFile: options.mqttCa }
    const durableId = durableIdOf(folder)
    const durable = durableId === undefined ? {} : { durableId }
    return refusing({
      ...createExternalPair({ clock, url, log, ...presence, ...credentials, ...caFile, ...durable }),
      url: () => url,
    })
  }
  const broker = createEmbeddedBroker({
    clock,
    host: options.mqttHost,
    port: options.mqttPort,
    log,
    accounts: options.mqttAccounts === null ? [] : readAccountsOf(options.mqttAccounts),
    ...(certificate ? { certificate, hasInnerPort: options.demo } : {}),
    ...presence,
    ...credentials,
  })
  return refusing({ ...broker, url: broker.innerUrl })
}

/** @throws {StartRefused} */
function readAccountsOf(file: string): MqttAccount[] {
  try {
    return readAccounts(file)
  } catch (error) {
    throw asRefusal(error as Error)
  }
}

/** What a broker says when it cannot start is a sentence for the person who starts the server. */
function refusing(broker: OpenBroker): OpenBroker {
  return {
    ...broker,
    start: () =>
      broker.start().catch((error: Error) => {
        throw asRefusal(error)
      }),
  }
}

function asRefusal({ message }: Error): StartRefused {
  return new StartRefused(`${message[0]?.toUpperCase()}${message.slice(1)}.`)
}
