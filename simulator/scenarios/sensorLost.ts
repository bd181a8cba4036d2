import type { Scenario, ScenarioStep } from './scenario.ts'

const steps: ScenarioStep[] = [
  { at: 5, control: 'fault', value: 'speed:lost' },
  { at: 125, control: 'fault', value: 'none' },
]

/** The speed pickup falls silent for two minutes while the machine runs. */
export const sensorLost: Scenario = {
  id: 'sensorLost',
  summary: 'The speed pickup falls silent for two minutes while the machine runs.',
  steps: { quennerby: steps, ostrelby: steps, skelderwath: steps },
}
