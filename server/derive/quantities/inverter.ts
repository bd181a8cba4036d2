import { aboveShare, type Quantity } from '../quantity.ts'

/** The inverter. */
export const inverter: readonly Quantity[] = [
  {
    id: 'inverterInputPower',
    name: 'Inverter input power',
    symbol: 'P_i',
    unit: 'W',
    group: 'loads',
    ways: [
      {
        formula: 'U * I',
        inputs: { U: 'inverterInputVoltage', I: 'inverterInputCurrent' },
        source: 'P = U·I',
      },
    ],
  },
  {
    id: 'inverterEfficiency',
    name: 'Inverter efficiency',
    symbol: 'η_i',
    unit: '1',
    view: '%',
    group: 'efficiency',
    ways: [
      {
        formula: 'P_o / P_i',
        inputs: { P_o: 'inverterOutputPower', P_i: 'inverterInputPower' },
        valid: [
          aboveShare(0.02, { P_i: 'inverter input' }, { P_r: 'inverter.ratedPower' }),
          { test: 'P_i > 0', otherwise: 'no inverter input power' },
        ],
        possible: { low: 0, high: 1, suspects: 'inverter input or output' },
        source: 'definition: output over input',
      },
    ],
  },
  {
    id: 'inverterLoss',
    name: 'Loss of the inverter',
    symbol: 'P_vi',
    unit: 'W',
    group: 'balance',
    ways: [
      {
        formula: 'P_i - P_o',
        inputs: { P_i: 'inverterInputPower', P_o: 'inverterOutputPower' },
        possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'inverter current or output power' },
        source: 'power balance of a stage',
      },
    ],
  },
]
