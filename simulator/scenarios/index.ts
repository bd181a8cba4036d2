import type { Scenario, ScenarioStep } from './scenario.ts'

const HOUR = 3600

/** Rack or sump strainer clogs over eight minutes and is then cleaned. */
const CLOGGING: ScenarioStep[] = [
  ...[10, 20, 30, 40, 50, 60, 70, 75, 80].map((blocked, i) => ({
    at: 5 + 60 * i,
    control: 'blockage',
    value: blocked,
  })),
  { at: 600, control: 'blockage', value: 0 },
]

const SPEED_LOST: ScenarioStep[] = [
  { at: 5, control: 'fault', value: 'speed:lost' },
  { at: 125, control: 'fault', value: 'none' },
]

/** Every scenario, in the order in which people are offered them. */
export const scenarios: readonly Scenario[] = [
  /** Nothing goes wrong: use follows the hours. Best seen with `--speed 60` or more. */
  {
    id: 'steadyDay',
    summary: 'A day without incidents: use follows the hours, the water stays.',
    repeatAfter: 24 * HOUR,
    steps: {
      quennerby: [
        { at: 0, control: 'lamps', value: 2 },
        { at: 0, control: 'heater', value: true },
        { at: 1 * HOUR, control: 'motor', value: true },
        { at: 2 * HOUR, control: 'motor', value: false },
        { at: 3 * HOUR, control: 'heater', value: false },
        { at: 4 * HOUR, control: 'heater', value: true },
        { at: 5 * HOUR, control: 'lamps', value: 4 },
      ],
      ostrelby: [
        { at: 0, control: 'demand', value: 4 },
        { at: 6 * HOUR, control: 'demand', value: 9 },
        { at: 8 * HOUR, control: 'demand', value: 7 },
        { at: 9 * HOUR, control: 'mill', value: true },
        { at: 12 * HOUR, control: 'mill', value: false },
        { at: 17 * HOUR, control: 'demand', value: 13 },
        { at: 18 * HOUR, control: 'demand', value: 17 },
        { at: 21 * HOUR, control: 'demand', value: 9 },
        { at: 23 * HOUR, control: 'demand', value: 5 },
      ],
      skelderwath: [
        { at: 0, control: 'river', value: 0.8 },
        { at: 6 * HOUR, control: 'river', value: 0.78 },
        { at: 12 * HOUR, control: 'river', value: 0.82 },
      ],
    },
  },
  /** At the mill the vanes change, not loads. */
  {
    id: 'loadSteps',
    summary: 'Loads change in steps, each long enough to settle.',
    steps: {
      quennerby: [
        { at: 2, control: 'heater', value: false },
        { at: 22, control: 'lamps', value: 0 },
        { at: 42, control: 'motor', value: true },
        { at: 62, control: 'lamps', value: 4 },
        { at: 82, control: 'heater', value: true },
        { at: 102, control: 'motor', value: false },
      ],
      ostrelby: [
        { at: 2, control: 'demand', value: 4 },
        { at: 32, control: 'demand', value: 10 },
        { at: 62, control: 'mill', value: true },
        { at: 92, control: 'demand', value: 13 },
        { at: 122, control: 'mill', value: false },
        { at: 152, control: 'demand', value: 7 },
      ],
      skelderwath: [
        { at: 2, control: 'vane-1', value: 50 },
        { at: 32, control: 'vane-2', value: 50 },
        { at: 62, control: 'vane-1', value: 100 },
        { at: 92, control: 'vane-2', value: 100 },
      ],
    },
  },
  {
    id: 'jetClosing',
    summary: 'Jets, spears or vane cells close one after the other and open again.',
    steps: {
      quennerby: [
        { at: 2, control: 'jet-4', value: false },
        { at: 27, control: 'jet-3', value: false },
        { at: 52, control: 'jet-2', value: false },
        { at: 77, control: 'jet-2', value: true },
        { at: 78, control: 'jet-3', value: true },
        { at: 79, control: 'jet-4', value: true },
      ],
      ostrelby: [
        { at: 2, control: 'demand', value: 4 },
        { at: 2, control: 'spear-2', value: 0 },
        { at: 62, control: 'spear-1', value: 50 },
        { at: 122, control: 'spear-1', value: 100 },
        { at: 152, control: 'spear-2', value: 100 },
        { at: 182, control: 'demand', value: 7 },
      ],
      skelderwath: [
        { at: 2, control: 'vane-1', value: 0 },
        { at: 62, control: 'vane-1', value: 100 },
        { at: 77, control: 'vane-2', value: 0 },
        { at: 137, control: 'vane-2', value: 100 },
      ],
    },
  },
  /** The hard-wired protection of the plant acts; later everything is put back. */
  {
    id: 'loadRejection',
    summary: 'The load is lost at full output; over-speed follows within a fraction of a second.',
    steps: {
      quennerby: [
        { at: 5, control: 'charger', value: false },
        { at: 65, control: 'charger', value: true },
        { at: 66, control: 'reset', value: true },
      ],
      ostrelby: [
        // With a sound dump load or battery the village can be lost without harm: take both away.
        { at: 5, control: 'dump', value: false },
        { at: 5, control: 'battery', value: false },
        { at: 5, control: 'village', value: false },
        { at: 90, control: 'dump', value: true },
        { at: 90, control: 'battery', value: true },
        { at: 91, control: 'reset', value: true },
        { at: 120, control: 'village', value: true },
      ],
      skelderwath: [
        { at: 5, control: 'grid', value: false },
        { at: 65, control: 'grid', value: true },
        { at: 95, control: 'reset', value: true },
      ],
    },
  },
  {
    id: 'dirtyRack',
    summary: 'Rack or strainer clogs over eight minutes, stays so, and is cleaned after ten.',
    steps: { quennerby: CLOGGING, ostrelby: CLOGGING, skelderwath: CLOGGING },
  },
  /** A change at the plant then shows that it does not follow. */
  {
    id: 'sensorStuck',
    summary: 'A pressure transmitter freezes; a change at the plant shows that it no longer follows.',
    steps: {
      quennerby: [
        { at: 5, control: 'fault', value: 'manifold-pressure:stuck' },
        { at: 30, control: 'head', value: 18 },
        { at: 120, control: 'head', value: 24 },
        { at: 150, control: 'fault', value: 'none' },
      ],
      ostrelby: [
        { at: 5, control: 'fault', value: 'penstock-pressure:stuck' },
        { at: 30, control: 'spear-2', value: 0 },
        { at: 120, control: 'spear-2', value: 100 },
        { at: 150, control: 'fault', value: 'none' },
      ],
      skelderwath: [
        { at: 5, control: 'fault', value: 'inlet-pressure:stuck' },
        { at: 30, control: 'vane-2', value: 0 },
        { at: 120, control: 'vane-2', value: 100 },
        { at: 150, control: 'fault', value: 'none' },
      ],
    },
  },
  {
    id: 'sensorLost',
    summary: 'The speed pickup falls silent for two minutes while the machine runs.',
    steps: { quennerby: SPEED_LOST, ostrelby: SPEED_LOST, skelderwath: SPEED_LOST },
  },
]

export function scenarioOf(id: string): Scenario | undefined {
  return scenarios.find((scenario) => scenario.id === id)
}
