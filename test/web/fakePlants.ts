import type { PlantSummary } from '../../server/wire/plant.ts'
import { rows } from './fakePlant.ts'

/** Two more plants for the list: one at a standstill, one that fell silent. */
export function otherPlants(): PlantSummary[] {
  const figure = rows.find((row) => row.description.id === 'activePower')!.description
  return [
    {
      id: 'ostrelby',
      name: 'Ostrelby Beck',
      summary: '15 kW off-grid Turgo, two spear jets',
      simulated: true,
      state: {
        state: 'stopped',
        sentence: 'Stopped: no water power, shaft at standstill.',
        since: Date.now() - 8e6,
        agreement: { state: 'agrees', sentence: 'The instruments agree.' },
      },
      headline: {
        figure: { ...figure, viewUnit: 'kW' },
        value: { value: 0, u95: 40, at: Date.now() - 300, quality: 'good', reasons: [] },
      },
      unacknowledged: 0,
      active: 0,
      danger: null,
      lastReceivedAt: Date.now() - 900,
    },
    {
      id: 'skelderwath',
      name: 'Skelderwath Mill',
      summary: '90 kW grid-tied crossflow',
      simulated: false,
      state: {
        state: 'unknown',
        sentence: 'Unknown: no measurement for 3 min.',
        since: Date.now() - 180_000,
        agreement: { state: 'agrees', sentence: 'The instruments agree.' },
      },
      headline: {
        figure: { ...figure, viewUnit: 'kW' },
        value: {
          value: null,
          at: Date.now() - 180_000,
          quality: 'bad',
          reasons: ['activePower stale 3 min'],
        },
      },
      unacknowledged: 2,
      active: 2,
      danger: null,
      lastReceivedAt: Date.now() - 180_000,
    },
  ]
}
