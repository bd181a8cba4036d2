import type { Scenario } from './scenario.ts'

/** The load goes at once. The hard-wired protection of the plant acts; later everything is put back. */
export const loadRejection: Scenario = {
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
}
