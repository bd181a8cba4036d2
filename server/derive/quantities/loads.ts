import { aboveShare, NOT_MEASURED, type Quantity } from '../quantity.ts'

/** Where the power goes. */
export const loads: readonly Quantity[] = [
  {
    id: 'dumpPower',
    name: 'Dump load power',
    symbol: 'P_d',
    unit: 'W',
    group: 'loads',
    ways: [
      {
        formula: 'U * I',
        inputs: { U: 'dumpVoltage', I: 'dumpCurrent' },
        source: 'P = U·I',
      },
    ],
  },
  {
    id: 'dumpShare',
    name: 'Share burnt in the dump load',
    symbol: 's_d',
    unit: '1',
    view: '%',
    group: 'loads',
    ways: [
      {
        formula: 'P_d / P',
        inputs: { P_d: 'dumpPower', P: 'activePower' },
        valid: [
          aboveShare(0.02, { P: 'active power' }, { P_r: 'generator.ratedPower' }),
          { test: 'P > 0', otherwise: 'nothing is generated' },
        ],
        source: 'definition',
      },
    ],
  },
  {
    id: 'dcLoadPower',
    name: 'Power to direct-current loads',
    symbol: 'P_dl',
    unit: 'W',
    group: 'loads',
    ways: [
      {
        formula: 'U * I',
        inputs: { U: 'dcLoadVoltage', I: 'dcLoadCurrent' },
        source: 'P = U·I',
      },
      {
        formula: 'U * I',
        inputs: { U: 'batteryVoltage', I: 'dcLoadCurrent' },
        source: 'P = U·I at the voltage of the battery bus',
      },
    ],
  },
  {
    id: 'usefulPower',
    name: 'Power that is not burnt',
    symbol: 'P_u',
    unit: 'W',
    group: 'loads',
    ways: [
      {
        formula: 'P - P_d',
        inputs: { P: 'activePower', P_d: 'dumpPower' },
        source: 'definition',
      },
    ],
  },
  {
    id: 'usefulShare',
    name: 'Useful share of what is generated',
    symbol: 's_u',
    unit: '1',
    view: '%',
    group: 'loads',
    ways: [
      {
        formula: '(P - P_d - P_x) / P',
        inputs: { P: 'activePower', P_d: 'dumpPower', P_x: 'auxiliaryPower' },
        defaults: { P_x: NOT_MEASURED },
        valid: [
          aboveShare(0.02, { P: 'active power' }, { P_r: 'generator.ratedPower' }),
          { test: 'P > 0', otherwise: 'nothing is generated' },
        ],
        source: 'definition: less what is burnt and what the plant itself uses',
      },
    ],
  },
  {
    id: 'unmetPower',
    name: 'Power that consumers lack',
    symbol: 'P_un',
    unit: 'W',
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
  },
]
