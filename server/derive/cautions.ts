import type { Plant } from '../plant/plant.ts'
import type { Caution } from '../wire/plant.ts'

/** What must be said at every plant, then what its equipment adds. Local rules always come first. */
export function cautionsFor(plant: Plant): Caution[] {
  return [
    {
      signal: 'NOTICE',
      text:
        'Headrace watches and records. It does not protect people or machines: over-speed and other dangers need ' +
        'their own hard-wired, tested protection that works without this computer or network. ' +
        'Late or missing data can look normal.',
    },
    {
      signal: 'NOTICE',
      text:
        'Acknowledging an alarm does not stop, start or reset anything. Limits shown here are examples: local law, ' +
        'the connection agreement, the water licence and licensed people decide.',
    },
    {
      signal: 'DANGER',
      text:
        'A generator makes voltage whenever its shaft turns, even with the loads off. Stop the water, wait for ' +
        'standstill, isolate, lock, prove dead, then touch.',
    },
    {
      signal: 'DANGER',
      text: 'Keep guards closed and stay out of the plane of runner and coupling. A stopped machine can restart when water returns.',
    },
    ...(plant.battery || plant.use === 'rig' ? BATTERY : []),
    ...(plant.penstock ? PENSTOCK : []),
    ...(plant.dump ? DUMP : []),
  ]
}

const BATTERY: Caution[] = [
  {
    signal: 'DANGER',
    text:
      'Batteries and direct-current links give very high short-circuit current and arcs that do not go out by ' +
      'themselves. Capacitors stay charged after stopping: wait the marked time and measure.',
  },
]

const PENSTOCK: Caution[] = [
  {
    signal: 'WARNING',
    text: 'Close penstock valves slowly: fast closing can raise the pressure enough to burst the pipe.',
  },
  {
    signal: 'DANGER',
    text: 'Do not clear the rack alone, at night or in high water. Suction at a blocked rack can hold a person.',
  },
]

const DUMP: Caution[] = [
  {
    signal: 'CAUTION',
    text: 'Dump loads get hot. Keep them uncovered, clear of anything that burns, and wet where made for it.',
  },
]
