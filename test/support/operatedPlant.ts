import type { Plant } from '../../server/plant/plant.ts'
import type { Setting } from '../../simulator/plants/model.ts'
import { createSite, type Site } from '../../simulator/site.ts'
import { type DrawnMachine, drawMachine } from './drawnMachine.ts'

/** True values of a simulated plant at several operating points, once a second after it has settled. */
export interface OperatedPlant {
  plant: Plant
  points: { name: string; truths: ReadonlyMap<string, number>[] }[]
}

type Commands = readonly (readonly [control: string, value: Setting])[]

/** How each demo plant is run, one point after the other. */
const POINTS: Readonly<Record<string, readonly { name: string; commands: Commands }[]>> = {
  quennerby: [
    { name: '4 jets', commands: [] },
    { name: '3 jets', commands: [['jet-4', false]] },
    { name: '2 jets', commands: [['jet-3', false]] },
  ],
  ostrelby: [
    { name: 'spears 100 %', commands: [] },
    {
      name: 'spears 75 %',
      commands: [
        ['spear-1', 75],
        ['spear-2', 75],
      ],
    },
    {
      name: 'one spear',
      commands: [
        ['spear-1', 100],
        ['spear-2', 0],
        ['demand', 4],
      ],
    },
  ],
  skelderwath: [
    { name: 'vanes 100 %', commands: [] },
    { name: 'large cell', commands: [['vane-1', 0]] },
    {
      name: 'small cell',
      commands: [
        ['vane-1', 100],
        ['vane-2', 0],
      ],
    },
  ],
}

/** Long enough for pipes, levels and controllers; what is looked at afterwards is longer than the window. */
const SETTLE_S = 60
const LOOK_S = 22

export function operatePlant(id: string, seed: number): OperatedPlant {
  return operate(createSite(id, { seed }), POINTS[id]!)
}

/** What closes by half of a machine that nobody tuned, as its second point. */
const CLOSING: Readonly<Record<DrawnMachine['inlet'], Commands>> = {
  jets: [['jet-1', false]],
  spears: [['spear-1', 0.6]],
  vanes: [['vane-1', 0.6]],
  none: [['throttle', 0.7]],
}

export function operateDrawn(seed: number): OperatedPlant {
  const { plant, inlet } = drawMachine(seed)
  return operate(createSite(plant.id, { plant, seed }), [
    { name: 'rated', commands: [] },
    { name: 'closed in part', commands: CLOSING[inlet] },
  ])
}

function operate(site: Site, wanted: readonly { name: string; commands: Commands }[]): OperatedPlant {
  const points = wanted.map(({ name, commands }) => {
    for (const [control, value] of commands) {
      const refused = site.command(control, value)
      if (refused !== undefined) throw new RangeError(refused)
    }
    site.step(SETTLE_S)
    const truths = Array.from({ length: LOOK_S }, () => {
      site.step(1)
      return site.truth()
    })
    return { name, truths }
  })
  return { plant: site.plant, points }
}
