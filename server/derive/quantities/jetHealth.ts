import { hasJets, isFlowMeasured, isMeasured, type Quantity } from '../quantity.ts'

const MOST_JETS = 8

/** One figure for each jet, told while it runs alone: only then is the discharge that of its nozzle. */
export const jetHealth: readonly Quantity[] = Array.from({ length: MOST_JETS }, (_, i) => {
  const jet = i + 1
  return {
    id: `jetHealth.${jet}`,
    name: `Jet ${jet} over a clean nozzle`,
    symbol: `q_${jet}`,
    unit: '1',
    view: '%',
    group: 'condition',
    steady: ['water'],
    ways: [
      {
        formula: 'Q / Q_n',
        inputs: { Q: 'discharge', Q_n: 'nozzleFlow', N: 'openJets', j: `jetOpen.${jet}`, H_n: 'netHead' },
        applies: (plant) => hasJets(plant) && isFlowMeasured(plant) && isMeasured(plant, `jetOpen.${jet}`),
        valid: [
          { test: 'N == 1 and j == 1', otherwise: `jet ${jet} does not run alone` },
          {
            test: 'H_n > 0.1 * H_r',
            constants: { H_r: 'turbine.ratedNetHead' },
            otherwise: 'net head is below 10 % of rated',
          },
        ],
        source:
          'nozzle law Q = Cd·A·√(2gH); below 95 % look, below 85 % something blocks it (common practice, no source)',
      },
    ],
  }
})
