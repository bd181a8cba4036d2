import { awayFromZero, type FigureRecord } from '../quantity.ts'

/** The inverter. */
export const inverter: readonly FigureRecord[] = [
  {
    id: 'inverterInputPower',
    name: 'Inverter input power',
    symbol: 'P_i',
    unit: 'W',
    group: 'loads',
    formula: 'U * I',
    inputs: { U: 'inverterInputVoltage', I: 'inverterInputCurrent' },
    source: 'P = U·I',
  },
  {
    id: 'inverterEfficiency',
    name: 'Inverter efficiency',
    symbol: 'η_i',
    unit: '1',
    view: '%',
    group: 'efficiency',
    formula: 'P_o / P_i',
    inputs: { P_o: 'inverterOutputPower', P_i: 'inverterInputPower' },
    valid: awayFromZero(0.02, { P_i: ['inverter input', 'no inverter input power'] }, 'inverter.ratedPower'),
    possible: { low: 0, high: 1, suspects: 'inverter input or output' },
    source: 'definition: output over input',
  },
  {
    id: 'inverterLoss',
    name: 'Loss of the inverter',
    symbol: 'P_vi',
    unit: 'W',
    group: 'balance',
    formula: 'P_i - P_o',
    inputs: { P_i: 'inverterInputPower', P_o: 'inverterOutputPower' },
    possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'inverter current or output power' },
    source: 'power balance of a stage',
  },
]
