import type { Scenario } from './scenario.ts'

/** The speed pickup falls silent for two minutes while the machine runs. */
export const sensorLost: Scenario = {
  id: 'sensorLost',
  summary: 'The speed pickup falls silent for two minutes while the machine runs.',
  steps: {
    quennerby: [
      { at: 5, control: 'fault', value: 'speed:lost' },
      { at: 125, control: 'fault', value: 'none' },
    ],
    ostrelby: [
      { at: 5, control: 'fault', value: 'speed:lost' },
      { at: 125, control: 'fault', value: 'none' },
    ],
    skelderwath: [
      { at: 5, control: 'fault', value: 'speed:lost' },
      { at: 125, control: 'fault', value: 'none' },
    ],
  },
}
