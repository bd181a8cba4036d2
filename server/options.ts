import { readFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { parse } from 'yaml'
import { address, brokerUrl, list, pageUrl, whole, yes } from './optionReaders.ts'
import { StartRefused } from './state/openState.ts'

/** Everything that can be set. Flags beat environment, environment beats the options file, that beats defaults. */
export interface Options {
  plants: string[]
  demo: boolean
  check: boolean
  help: boolean
  data: string
  httpHost: string
  httpPort: number
  /** Small letters; null where no proxy serves the page under a name of its own. */
  pageName: string | null
  openReading: boolean
  newSetupCode: boolean
  mqttUrl: string | null
  mqttHost: string
  mqttPort: number
  mqttUser: string | null
  mqttPassword: string | null
  mqttCa: string | null
  tickMs: number
  publishFigures: boolean
  notify: string | null
  notifySecrets: string | null
  publicUrl: string | null
}

interface Row {
  flag: string
  takes: string
  fallback: string
  help: string
  many?: true
}

const ROWS: readonly Row[] = [
  {
    flag: 'plant',
    takes: 'FILE',
    fallback: '',
    many: true,
    help: 'Plant file to run; may be given several times. Without one the demo runs.',
  },
  {
    flag: 'demo',
    takes: '',
    fallback: 'false',
    help: 'Run the demo: three simulated plants and their simulator.',
  },
  {
    flag: 'check',
    takes: '',
    fallback: 'false',
    help: 'Check the plant files, say what would be subscribed and derived, and end.',
  },
  { flag: 'data', takes: 'DIR', fallback: 'data', help: 'Folder for history, counters and journal.' },
  {
    flag: 'http-host',
    takes: 'ADDRESS',
    fallback: '127.0.0.1',
    help: 'Address to serve the page on. From others than loopback reading needs a sign-in.',
  },
  {
    flag: 'page-name',
    takes: 'NAME',
    fallback: '',
    help: 'Name under which a proxy with HTTPS on this machine serves the page, e.g. plant.example.',
  },
  { flag: 'http-port', takes: 'N', fallback: '8080', help: 'Port of the page; 0 takes a free one.' },
  {
    flag: 'open-reading',
    takes: '',
    fallback: 'false',
    help: 'Let everybody who can reach the address read without a sign-in. Actions always need one.',
  },
  {
    flag: 'new-setup-code',
    takes: '',
    fallback: 'false',
    help: 'Print a new one-time code that makes an administrator; for when none can get in.',
  },
  {
    flag: 'mqtt-url',
    takes: 'URL',
    fallback: '',
    help: 'External broker, mqtt://HOST:PORT or mqtts://HOST:PORT. Without it a broker runs inside.',
  },
  {
    flag: 'mqtt-user',
    takes: 'NAME',
    fallback: '',
    help: 'User name at the external broker, or the one that the broker inside asks for.',
  },
  {
    flag: 'mqtt-password',
    takes: 'TEXT',
    fallback: '',
    help: 'Password for it. Better in the environment (HEADRACE_MQTT_PASSWORD) than on the command line.',
  },
  {
    flag: 'mqtt-ca',
    takes: 'FILE',
    fallback: '',
    help: 'Certificate authority of the external broker (PEM).',
  },
  {
    flag: 'mqtt-host',
    takes: 'ADDRESS',
    fallback: '127.0.0.1',
    help: 'Address of the broker inside. Others than loopback need --mqtt-user and a password.',
  },
  { flag: 'mqtt-port', takes: 'N', fallback: '1883', help: 'Port of the broker inside; 0 takes a free one.' },
  {
    flag: 'tick',
    takes: 'MS',
    fallback: '200',
    help: 'Time between two evaluations of the figures, 50 … 1000 ms.',
  },
  {
    flag: 'publish-figures',
    takes: 'on|off',
    fallback: 'on',
    help: 'Publish figures and alarm transitions under headrace/PLANT/….',
  },
  {
    flag: 'notify',
    takes: 'FILE',
    fallback: '',
    help: 'Notification file: who is told of which alarms, over which channel, and how soon.',
  },
  {
    flag: 'notify-secrets',
    takes: 'FILE',
    fallback: '',
    help: 'Passwords and keys of its channels, "ID: SECRET" in YAML; or HEADRACE_NOTIFY_SECRET_ID in the environment.',
  },
  {
    flag: 'public-url',
    takes: 'URL',
    fallback: '',
    help: 'Address of the page as people reach it, for links in messages, e.g. https://plant.example.',
  },
  {
    flag: 'options',
    takes: 'FILE',
    fallback: '',
    help: 'YAML file with any of these by name, e.g. "http-port: 80".',
  },
  { flag: 'help', takes: '', fallback: 'false', help: 'Print this.' },
]

/** @throws {StartRefused} with one sentence that names the option, what came and what was expected. */
export function readOptions(args: readonly string[], environment: NodeJS.ProcessEnv): Options {
  const flags = readFlags(args)
  const file = readOptionsFile(String(flags['options'] ?? environment['HEADRACE_OPTIONS'] ?? ''))
  const text = (flag: string): string => {
    const row = ROWS.find((one) => one.flag === flag)!
    const value = flags[flag] ?? environment[environmentName(flag)] ?? file[flag] ?? row.fallback
    return String(value)
  }
  const plants =
    (flags['plant'] as string[] | undefined) ?? list(environment['HEADRACE_PLANT'] ?? file['plant'])
  return {
    plants,
    demo: yes('demo', text('demo')) || plants.length === 0,
    check: yes('check', text('check')),
    help: yes('help', text('help')),
    data: text('data'),
    httpHost: address('http-host', text('http-host')),
    httpPort: whole('http-port', text('http-port'), [0, 65_535]),
    pageName: text('page-name').toLowerCase() || null,
    openReading: yes('open-reading', text('open-reading')),
    newSetupCode: yes('new-setup-code', text('new-setup-code')),
    mqttUrl: brokerUrl(text('mqtt-url')),
    mqttHost: address('mqtt-host', text('mqtt-host')),
    mqttPort: whole('mqtt-port', text('mqtt-port'), [0, 65_535]),
    mqttUser: text('mqtt-user') || null,
    mqttPassword: text('mqtt-password') || null,
    mqttCa: text('mqtt-ca') || null,
    tickMs: whole('tick', text('tick'), [50, 1000]),
    publishFigures: yes('publish-figures', text('publish-figures')),
    notify: text('notify') || null,
    notifySecrets: text('notify-secrets') || null,
    publicUrl: pageUrl(text('public-url')),
  }
}

/** The text of --help. */
export function describeOptions(): string {
  const width = Math.max(...ROWS.map((row) => row.flag.length + row.takes.length + 3))
  const lines = ROWS.map((row) => {
    const name = `--${row.flag} ${row.takes}`.padEnd(width + 2)
    const fallback = row.fallback === '' || row.fallback === 'false' ? '' : ` (default ${row.fallback})`
    return `  ${name}${row.help}${fallback}`
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

export function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || /^127\./.test(host)
}

/** "127.0.0.1" of "127.0.0.1:8080", "::1" of "[::1]:8080": the name in a Host header. */
export function hostName(header: string | undefined): string {
  return (header ?? '')
    .replace(/:\d+$/, '')
    .replace(/^\[|\]$/g, '')
    .toLowerCase()
}

function readFlags(args: readonly string[]): Record<string, string | string[] | boolean | undefined> {
  try {
    const { values } = parseArgs({
      args: [...args],
      strict: true,
      options: Object.fromEntries(
        ROWS.map((row) => [
          row.flag,
          row.takes === ''
            ? { type: 'boolean' as const }
            : { type: 'string' as const, multiple: row.many === true },
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
    const values: unknown = parse(readFileSync(file, 'utf8'))
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
