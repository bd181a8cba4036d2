import { parseArgs } from 'node:util'
import { parse } from 'yaml'
import { LOG_FORMATS } from './log.ts'
import { address, brokerUrl, list, lowerCase, oneOf, orNull, pageUrl, whole, yes } from './optionValues.ts'
import { readSmallFile } from './readSmallFile.ts'
import { StartRefused } from './state/openState.ts'

/** One option: how it is called, what follows it (nothing: a switch), what it is when nothing is said. */
interface Row {
  flag: string
  takes?: string
  fallback?: string
  help: string
  /** What is made of the text. @throws {StartRefused} that says what was expected */
  read(value: unknown, flag: string): unknown
}

/** Everything that can be set. Flags beat environment, environment beats the options file, that beats defaults. */
const TABLE = {
  plants: {
    flag: 'plant',
    takes: 'FILE',
    help: 'Plant file to run; may be given several times. Without one the demo runs.',
    read: list,
  },
  demo: { flag: 'demo', help: 'Run the demo: three simulated plants and their simulator.', read: yes },
  check: {
    flag: 'check',
    help: 'Check the plant files, say what would be subscribed and derived, and end.',
    read: yes,
  },
  data: {
    flag: 'data',
    takes: 'DIR',
    fallback: 'data',
    help: 'Folder for history, counters and journal.',
    read: String,
  },
  historySize: {
    flag: 'history-size',
    takes: 'GB',
    fallback: '20',
    help: 'Most that history may take on the disk; then the oldest samples go, then the oldest minutes.',
    read: whole(1, 100_000),
  },
  journalYears: {
    flag: 'journal-years',
    takes: 'N',
    fallback: '10',
    help: 'How long the journal of alarms is kept, and at most a million entries.',
    read: whole(1, 1000),
  },
  httpHost: {
    flag: 'http-host',
    takes: 'ADDRESS',
    fallback: '127.0.0.1',
    help: 'Address to serve the page on. From others than loopback reading needs a sign-in.',
    read: address,
  },
  tlsCertificate: {
    flag: 'tls-certificate',
    takes: 'FILE',
    help: 'Certificate (PEM, with those that lead to its authority): page and broker inside then speak TLS only.',
    read: orNull,
  },
  tlsKey: {
    flag: 'tls-key',
    takes: 'FILE',
    help: 'Its private key (PEM, without a passphrase). Both files are followed: new ones need no restart.',
    read: orNull,
  },
  requireTls: {
    flag: 'require-tls',
    help: 'Refuse to start where a line to another machine would be plain text: page, broker, mail, webhooks.',
    read: yes,
  },
  pageName: {
    flag: 'page-name',
    takes: 'NAME',
    help: 'Name under which a proxy with HTTPS on this machine serves the page, e.g. plant.example.',
    read: lowerCase,
  },
  httpsSubdomains: {
    flag: 'https-subdomains',
    help: 'Where the page comes by HTTPS, bind browsers to it for all names below its own too.',
    read: yes,
  },
  httpPort: {
    flag: 'http-port',
    takes: 'N',
    fallback: '8080',
    help: 'Port of the page; 0 takes a free one.',
    read: whole(0, 65_535),
  },
  openReading: {
    flag: 'open-reading',
    help: 'Let everybody who can reach the address read without a sign-in. Actions always need one.',
    read: yes,
  },
  newSetupCode: {
    flag: 'new-setup-code',
    help: 'Print a new one-time code that makes an administrator; for when none can get in.',
    read: yes,
  },
  mqttUrl: {
    flag: 'mqtt-url',
    takes: 'URL',
    help: 'External broker, mqtt://HOST:PORT or mqtts://HOST:PORT. Without it a broker runs inside.',
    read: brokerUrl,
  },
  mqttUser: {
    flag: 'mqtt-user',
    takes: 'NAME',
    help: 'User name at the external broker, or the one that the broker inside asks for.',
    read: orNull,
  },
  mqttPassword: {
    flag: 'mqtt-password',
    takes: 'TEXT',
    help: 'Password for it. Better in the environment (HEADRACE_MQTT_PASSWORD) than on the command line.',
    read: orNull,
  },
  mqttAccounts: {
    flag: 'mqtt-accounts',
    takes: 'FILE',
    help: 'Devices at the broker inside, each with a password and the topics it may publish and subscribe to.',
    read: orNull,
  },
  newMqttAccount: {
    flag: 'new-mqtt-account',
    takes: 'NAME',
    help: 'Make a password for a device, print it with the lines for that file, and end.',
    read: orNull,
  },
  mqttCa: {
    flag: 'mqtt-ca',
    takes: 'FILE',
    help: 'Certificate authority of the external broker (PEM).',
    read: orNull,
  },
  mqttHost: {
    flag: 'mqtt-host',
    takes: 'ADDRESS',
    fallback: '127.0.0.1',
    help: 'Address of the broker inside. Others than loopback need --mqtt-accounts, or --mqtt-user and a password.',
    read: address,
  },
  mqttPort: {
    flag: 'mqtt-port',
    takes: 'N',
    fallback: '1883',
    help: 'Port of the broker inside; 0 takes a free one.',
    read: whole(0, 65_535),
  },
  tickMs: {
    flag: 'tick',
    takes: 'MS',
    fallback: '200',
    help: 'Time between two evaluations of the figures, 50 … 1000 ms.',
    read: whole(50, 1000),
  },
  publishFigures: {
    flag: 'publish-figures',
    takes: 'on|off',
    fallback: 'on',
    help: 'Publish figures and alarm transitions under headrace/PLANT/….',
    read: yes,
  },
  notify: {
    flag: 'notify',
    takes: 'FILE',
    help: 'Notification file: who is told of which alarms, over which channel, and how soon.',
    read: orNull,
  },
  notifySecrets: {
    flag: 'notify-secrets',
    takes: 'FILE',
    help: 'Passwords and keys of its channels, "ID: SECRET" in YAML; or HEADRACE_NOTIFY_SECRET_ID in the environment.',
    read: orNull,
  },
  publicUrl: {
    flag: 'public-url',
    takes: 'URL',
    help: 'Address of the page as people reach it, for links in messages, e.g. https://plant.example.',
    read: pageUrl,
  },
  backup: {
    flag: 'backup',
    takes: 'DIR',
    help: 'Write all that is stored, and the files that these options name, into a new folder, and end. The server may run meanwhile.',
    read: orNull,
  },
  restore: {
    flag: 'restore',
    takes: 'DIR',
    help: 'Put such a backup into the data folder, which must be empty, and end.',
    read: orNull,
  },
  log: {
    flag: 'log',
    takes: 'text|json',
    fallback: 'text',
    help: 'How the log on the console is written: a line of text for people, or of JSON for programs.',
    read: oneOf(LOG_FORMATS),
  },
  help: { flag: 'help', help: 'Print this.', read: yes },
  options: {
    flag: 'options',
    takes: 'FILE',
    help: 'YAML file with any of these by name, e.g. "http-port: 80".',
    read: orNull,
  },
} as const satisfies Record<string, Row>

const ROWS: readonly Row[] = Object.values(TABLE)

/** For the reference. */
export const optionRows: readonly Pick<Row, 'flag' | 'takes' | 'fallback' | 'help'>[] = ROWS

export type Options = { -readonly [Key in keyof typeof TABLE]: ReturnType<(typeof TABLE)[Key]['read']> }

/** @throws {StartRefused} with one sentence that names the option, what came and what was expected. */
export function readOptions(args: readonly string[], environment: NodeJS.ProcessEnv): Options {
  const flags = readFlags(args)
  const said = ({ flag }: Row) => flags[flag] ?? environment[environmentName(flag)]
  const file = readOptionsFile(String(said(TABLE.options) ?? ''))
  const values = Object.entries<Row>(TABLE).map(([key, row]) => [
    key,
    row.read(said(row) ?? file[row.flag] ?? row.fallback ?? '', row.flag),
  ])
  const options = Object.fromEntries(values) as Options
  return { ...options, demo: options.demo || options.plants.length === 0 }
}

/** Every file of settings that these options name, the one with options among them. */
export function namedFiles(options: Options): string[] {
  return Object.entries<Row>(TABLE).flatMap(([key, { takes }]) =>
    takes === 'FILE' ? ((options[key as keyof Options] as string | string[] | null) ?? []) : [],
  )
}

/** The text of --help. */
export function describeOptions(): string {
  const width = Math.max(...ROWS.map(({ flag, takes = '' }) => flag.length + takes.length + 3))
  const lines = ROWS.map(({ flag, takes = '', fallback, help }) => {
    const name = `--${flag} ${takes}`.padEnd(width + 2)
    return `  ${name}${help}${fallback === undefined ? '' : ` (default ${fallback})`}`
  })
  return [
    'Headrace: watches small hydropower plants and teaching rigs.',
    '',
    'npm start -- [options]',
    '',
    ...lines,
    '',
    'Each can also be set in the environment, e.g. --http-port as HEADRACE_HTTP_PORT.',
  ].join('\n')
}

function readFlags(args: readonly string[]): Record<string, string | string[] | boolean | undefined> {
  try {
    const { values } = parseArgs({
      args: [...args],
      strict: true,
      options: Object.fromEntries(
        ROWS.map(({ flag, takes, read }) => [
          flag,
          takes === undefined
            ? { type: 'boolean' as const }
            : { type: 'string' as const, multiple: read === list },
        ]),
      ),
    })
    return values as Record<string, string | string[] | boolean | undefined>
  } catch (error) {
    throw new StartRefused(`${error instanceof Error ? error.message.split('\n')[0] : error} See --help.`)
  }
}

function readOptionsFile(file: string): Record<string, unknown> {
  if (file === '') return {}
  try {
    const values: unknown = parse(readSmallFile(file))
    if (values === null || typeof values !== 'object' || Array.isArray(values))
      throw new Error('expected a mapping')
    const unknown = Object.keys(values).find((key) => !ROWS.some((row) => row.flag === key))
    if (unknown !== undefined) throw new Error(`no option is called "${unknown}"`)
    return values as Record<string, unknown>
  } catch (error) {
    throw new StartRefused(
      `The options file ${file} cannot be used: ${error instanceof Error ? error.message : error}.`,
    )
  }
}

function environmentName(flag: string): string {
  return `HEADRACE_${flag.toUpperCase().replaceAll('-', '_')}`
}
