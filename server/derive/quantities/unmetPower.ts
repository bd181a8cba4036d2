import type { Quantity } from '../quantity.ts'

export const unmetPower: Quantity = {
  id: 'unmetPower',
  name: 'Power that consumers lack',
  symbol: 'P_un',
  unit: 'W',
  view: 'W',
  group: 'loads',
  ways: [
    {
      formula: 'max(l) * P_sh',
      inputs: { l: 'loadShed.*' },
      constants: { P_sh: 'loads.shedPower' },
      applies: (plant) => plant.loads !== undefined,
      estimated: 'what is shed counts with its rating; what it would have taken is not known',
      source: 'demand that is shed times its rating (trade practice, no source)',
    },
    {
      formula: 'f < f_l ? P_r : 0 * P_r',
      inputs: { f: 'frequency' },
      constants: { f_l: 'loads.lowestFrequency', P_r: 'loads.ratedPower' },
      applies: (plant) => plant.loads !== undefined,
      estimated: 'while the frequency is too low all consumers count as not supplied, with their rating',
      source: 'sag of the frequency times rated load (trade practice, no source)',
    },
  ],
}
