import type { Scenario } from './scenario.ts'

/** A pressure transmitter freezes; a change at the plant then shows that it does not follow. */
export const sensorStuck: Scenario = {
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
}
