import type { Scenario } from './scenario.ts'

/** Loads (at the mill: vanes) change in steps, each long enough to settle. */
export const loadSteps: Scenario = {
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
}
