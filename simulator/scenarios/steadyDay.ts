import type { Scenario } from './scenario.ts'

const HOUR = 3600

/** Nothing goes wrong: use follows the hours. Best seen with `--speed 60` or more. */
export const steadyDay: Scenario = {
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
}
