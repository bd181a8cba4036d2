import type { Scenario, ScenarioStep } from './scenario.ts'

/** Rack or sump strainer clogs over eight minutes and is then cleaned. */
const clogging: ScenarioStep[] = [10, 20, 30, 40, 50, 60, 70, 75, 80].map((blocked, i) => ({
  at: 5 + 60 * i,
  control: 'blockage',
  value: blocked,
}))
const cleaning: ScenarioStep = { at: 600, control: 'blockage', value: 0 }

export const dirtyRack: Scenario = {
  id: 'dirtyRack',
  summary: 'Rack or strainer clogs over eight minutes, stays so, and is cleaned after ten.',
  steps: {
    quennerby: [...clogging, cleaning],
    ostrelby: [...clogging, cleaning],
    skelderwath: [...clogging, cleaning],
  },
}
