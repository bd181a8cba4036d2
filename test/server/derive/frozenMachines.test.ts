import { expect, it } from 'vitest'
import { createIntake } from '../../../server/derive/intake.ts'
import { FROZEN } from '../../../server/derive/stillWatch.ts'
import { toSi } from '../../../server/wire/units.ts'
import { createSite } from '../../../simulator/site.ts'
import { drawMachine } from '../../support/drawnMachine.ts'
import { START } from '../../support/manualClock.ts'

// Machines that nobody tuned. What is true is known: the simulator froze the one instrument and no other.

const MACHINES = 8
const CLOSING = { jets: ['jet-1', false], spears: ['spear-1', 0.6], vanes: ['vane-1', 0.6] } as const
const LOSING = { bus: 'charger', island: 'feeder', grid: 'grid' } as const

function playDrawn(seed: number) {
  const { plant, inlet, network } = drawMachine(seed)
  const site = createSite(plant.id, { plant, seed })
  const intake = createIntake(plant, () => {})
  const byTopic = new Map(plant.instruments.map((one) => [one.topic, one]))
  const found = new Set<string>()
  let now = START
  site.step(30)

  function run(seconds: number): void {
    for (let i = 0; i < 10 * seconds; i++) {
      site.step(0.1)
      now += 100
      for (const { topic, payload } of site.messages(now)) {
        const instrument = byTopic.get(topic)
        if (!instrument) continue
        const value = toSi(Number(payload.toString()), instrument.unit)
        const { id, quantity } = instrument
        const at = { measuredAt: now, receivedAt: now }
        intake.take({ plant: plant.id, instrument: id, quantity, value, ...at, quality: 'good', reasons: [] })
      }
      if (i % 10 === 0)
        plant.instruments.forEach(({ id }, leaf) => {
          if (intake.remarks(leaf).some((text) => text.startsWith(FROZEN))) found.add(id)
        })
    }
  }
  const close = inlet === 'none' ? (['throttle', 0.7] as const) : CLOSING[inlet]
  return { plant, run, found, close, lose: LOSING[network], command: site.command }
}

it(`a frozen instrument is found at each of ${MACHINES} drawn machines within 35 s, and a sound one nowhere`, () => {
  for (let seed = 0; seed < MACHINES; seed++) {
    const { plant, run, found, close, lose, command } = playDrawn(seed)
    const [control, share] = close
    run(40)
    command(control, share)
    run(40)
    expect([...found], `machine ${seed}, sound`).toEqual([])
    const { id } = plant.instruments[seed % plant.instruments.length]!
    expect(command('fault', `${id}:stuck`)).toBeUndefined()
    run(35)
    expect([...found], `machine ${seed}, frozen`).toEqual([id])
    command('fault', 'none')
    run(5)
    found.clear()
    command(lose, false)
    run(60)
    expect([...found], `machine ${seed}, load lost`).toEqual([])
  }
}, 120_000)
