/**
 * A process of its own that records transitions and delivers them by webhook until it is killed. Arguments: data
 * folder, address of the receiver. Prints the sequence of every step that the journal said is recorded.
 *
 * The plant is a stand-in: what a hundred starts must not wait for is the formulas.
 */
import { NEVER_RAISED } from '../../../server/alarms/alarm.ts'
import { createJournal } from '../../../server/alarms/journal.ts'
import { createNotify } from '../../../server/alarms/notify/openNotify.ts'
import { systemClock } from '../../../server/clock.ts'
import type { LivePlant } from '../../../server/livePlant.ts'
import { openState } from '../../../server/state/openState.ts'
import { memoryBroker } from '../../support/memoryBroker.ts'
import { happening, settingsOf } from '../../support/notifyBench.ts'

const [folder, url] = process.argv.slice(2)
const SECRET = `whsec_${Buffer.alloc(32, 7).toString('base64')}`
const settings = settingsOf(`
channels: [{ id: desk, kind: webhook, url: '${url}' }]
recipients: [{ id: anna, name: Anna, by: [{ channel: desk }] }]
rules: [{ to: [anna] }]`)

let raisedAt = 0
let isRaised = false
const live = {
  plant: { id: 'mill', name: 'Upper mill', simulated: false, site: { timeZone: 'Europe/London' } },
  plan: { nodes: [], indexOf: new Map() },
  board: { views: () => [{ ...happening().alarm, raisedAt, active: isRaised }] },
  state: () => ({ sentence: 'Running.' }),
  machineBefore: () => undefined,
} as unknown as LivePlant

const state = openState(folder!)
const notify = createNotify({
  settings,
  secrets: () => SECRET,
  publicUrl: 'https://plant.example',
  state,
  clock: systemClock,
  plants: () => new Map([['mill', live]]),
  broker: memoryBroker,
})
const journal = createJournal(state, notify.alongside)
notify.start('http://127.0.0.1')

setInterval(() => {
  const at = Date.now()
  if (!isRaised) raisedAt = at
  const step = isRaised
    ? ({ from: 'unacknowledged', to: 'returnedUnacknowledged', event: 'return' } as const)
    : ({ from: 'normal', to: 'unacknowledged', event: 'raise' } as const)
  isRaised = !isRaised
  const entry = journal.record(
    'mill',
    { at, alarm: 'over', priority: 'high', entry: 'alarm', value: 185, ...step },
    NEVER_RAISED,
  )
  process.stdout.write(`${entry.sequence}\n`)
}, 2)
