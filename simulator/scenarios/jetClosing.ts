import type { Scenario } from './scenario.ts'

/** Jets, spears or cells close one after the other and open again. */
export const jetClosing: Scenario = {
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
}
