import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { notifyFileSchema } from '../../../server/alarms/notify/settings.ts'
import { readAccounts } from '../../../server/ingest/broker/embeddedAccounts.ts'
import { printFault, readDocument } from '../../../server/plant/load.ts'
import type { PlantFault } from '../../../server/plant/plant.ts'
import { readPlantText } from '../../../server/plantFiles.ts'
import { THREE_SENSORS, TRACE_RIG } from '../../support/plants.ts'
import { scratchFolder } from '../../support/scratch.ts'
import { damaged, rubbish } from '../rubbish.ts'
import { demand, opened, type Target } from '../target.ts'

const PLANT = `${THREE_SENSORS}
penstock: { bore: 150 mm, length: 300 m, roughness: 0.1 mm }
figures:
  - { id: income, name: Earned, formula: P * price, inputs: { P: activePower }, constants: { price: 0.12 /(kW.h) }, unit: /h }
relations: { generatorResidual: 1 % }
show: { keyFigures: [activePower], trends: [netHead] }
alarms:
  - { id: low, name: Power low, kind: low, figure: activePower, limit: 1 kW, onDelay: 10 s, priority: medium }
  - { id: over, name: Over-speed, kind: overSpeed, figure: activePower, limit: 110 % of rated, priority: high, latching: true }
`

const NOTIFY = `headraceNotify: 1
timeZone: Europe/London
channels:
  - { id: hook, kind: webhook, url: "https://example.org/alarms" }
  - { id: mail, kind: email, host: mail.example.org, port: 587, from: plant@example.org }
recipients:
  - { id: anna, name: Anna, by: [{ channel: hook }, { channel: mail, to: anna@example.org, priorities: [high] }] }
rules:
  - { to: [anna], priorities: [high, medium], ladder: [{ after: 15 min, to: [anna] }], quietHours: { from: "22:00", to: "06:30" } }
digest: { at: "07:30", to: [anna] }
rate: { most: 20, per: 1 h }
weeklyTest: { day: monday, at: "09:00" }
heartbeat: { url: "https://example.org/alive", period: 1 min }
`

const ACCOUNTS = `accounts:
  - user: logger
    password: sha256:${'0'.repeat(64)}
    publish: [mill/]
    subscribe: []
    clientId: logger-1
  - { user: other, password: "sha256:${'a'.repeat(64)}" }
`

/** Pieces of YAML that mean more than they say. */
const piece = fc.oneof(
  fc.constantFrom(
    '&a',
    '*a',
    '<<: *a',
    '!!binary',
    '!!js/function "x"',
    '? ',
    '- ',
    ': ',
    '{',
    '}',
    '[',
    ']',
    '|',
    '>',
    '---',
    '...',
    '%YAML 1.1',
    '"',
    "'",
    '#',
    '\t',
    '1_000',
    '0o17',
    '~',
    '.nan',
    '.inf',
    'yes',
    '2026-01-01',
  ),
  rubbish,
)

/** The lines of a file, some of them gone, doubled or with a piece at the end, and then a few letters changed. */
function damagedFile(text: string): fc.Arbitrary<string> {
  const lines = text.split('\n')
  const edit = fc.record({
    line: fc.nat(lines.length - 1),
    what: fc.constantFrom('drop', 'double', 'add', 'value'),
    puts: piece,
  })
  const edited = fc.array(edit, { maxLength: 4 }).map((edits) =>
    lines
      .flatMap((line, i) => {
        const one = edits.find((each) => each.line === i)
        if (one?.what === 'drop') return []
        if (one?.what === 'double') return [line, line]
        if (one?.what === 'add') return [line + one.puts]
        return [one ? line.replace(/: [^,}]*/, () => `: ${one.puts}`) : line]
      })
      .join('\n'),
  )
  return fc.oneof(
    { weight: 6, arbitrary: damaged(edited, 2) },
    { weight: 1, arbitrary: damaged(fc.constant(text), 12) },
    { weight: 1, arbitrary: fc.array(piece, { maxLength: 12 }).map((all) => all.join(' ')) },
  )
}

function checkFaults(faults: readonly PlantFault[]): void {
  demand(faults.length > 0, () => 'refused without a fault')
  for (const one of faults) {
    const sentence = printFault('x.yaml', one)
    demand(
      sentence.length < 2000 && !sentence.includes('undefined: '),
      () => `no sentence for a person: ${sentence}`,
    )
  }
}

const fileTarget = (name: string, share: number, text: string, read: (text: string) => void): Target => ({
  name,
  share,
  open: () => opened<string>({ cases: damagedFile(text), run: read }),
})

const accounts: Target = {
  name: 'accountFile',
  share: 0.02,
  open() {
    const scratch = scratchFolder()
    const file = join(scratch.path, 'accounts.yaml')
    return opened<string>({
      cases: damagedFile(ACCOUNTS),
      run(text) {
        writeFileSync(file, text)
        try {
          demand(readAccounts(file).length > 0, () => 'a file without accounts was taken')
        } catch (error) {
          const isSentence = error instanceof Error && error.message.startsWith('the MQTT accounts file')
          demand(
            isSentence,
            () => `no sentence for a person: ${error instanceof Error ? error.stack : error}`,
          )
        }
      },
      close: scratch.remove,
    })
  },
}

export const fileTargets: readonly Target[] = [
  fileTarget('plantFile', 0.01, PLANT, readOnePlant),
  fileTarget('rigFile', 0.01, `headrace: 1\nsite: { timeZone: UTC }\n${TRACE_RIG}`, readOnePlant),
  fileTarget('notifyFile', 0.03, NOTIFY, (text) => {
    const read = readDocument(text, notifyFileSchema)
    if ('faults' in read) checkFaults(read.faults)
  }),
  accounts,
]

/** As the server does with a file that has changed. */
function readOnePlant(text: string): void {
  const read = readPlantText(text, 'x.yaml')
  if ('faults' in read) checkFaults(read.faults)
}
