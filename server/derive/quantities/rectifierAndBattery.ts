import { aboveShare, NOT_MEASURED, type Quantity } from '../quantity.ts'
import { stageLoss } from './stages.ts'

/** The direct-current bus: rectifier, charger, battery. */
export const rectifierAndBattery: readonly Quantity[] = [
  {
    id: 'rectifierPower',
    name: 'Rectifier output power',
    symbol: 'P_dc',
    unit: 'W',
    group: 'electrical',
    ways: [
      {
        formula: 'U * I',
        inputs: { U: 'dcVoltage', I: 'dcCurrent' },
        source: 'P = U·I',
      },
    ],
  },
  stageLoss({
    id: 'rectifierLoss',
    name: 'Loss of the rectifier',
    symbol: 'P_vr',
    formula: 'P - P_dc',
    inputs: { P: 'activePower', P_dc: 'rectifierPower' },
    suspects: 'power or rectifier current',
  }),
  {
    id: 'rectifierEfficiency',
    name: 'Rectifier efficiency',
    symbol: 'η_r',
    unit: '1',
    view: '%',
    group: 'efficiency',
    ways: [
      {
        formula: 'P_dc / P',
        inputs: { P_dc: 'rectifierPower', P: 'activePower' },
        // Of a direct-current generator both are the same reading.
        applies: (plant) => plant.generator?.kind !== 'directCurrent',
        valid: [
          aboveShare(0.05, { P: 'active power' }, { P_r: 'generator.ratedPower' }),
          { test: 'P > 0', otherwise: 'nothing is generated' },
        ],
        possible: { low: 0, high: 1, suspects: 'rectifier voltage or current, or active power' },
        source: 'definition: output over input',
      },
    ],
  },
  {
    id: 'batteryPower',
    name: 'Battery power (+ charging)',
    symbol: 'P_b',
    unit: 'W',
    group: 'storage',
    ways: [
      {
        formula: 'U * I',
        inputs: { U: 'batteryVoltage', I: 'batteryCurrent' },
        source: 'P = U·I',
      },
    ],
  },
  {
    id: 'batteryPowerMean',
    name: 'Battery power, mean of 5 min',
    symbol: 'P_b5',
    unit: 'W',
    group: 'storage',
    background: true,
    ways: [
      {
        formula: 'meanOverTime(P_b)',
        inputs: { P_b: 'batteryPower' },
        window: { seconds: 300, take: 'mean' },
        source: 'mean of the last 5 min',
      },
    ],
  },
  {
    id: 'timeToFull',
    name: 'Time until the battery is full',
    symbol: 't_full',
    unit: 's',
    view: 'h',
    group: 'storage',
    ways: [
      {
        formula: 'C * U * (1 - SoC) / (eta_c * P)',
        inputs: { SoC: 'stateOfCharge', P: 'batteryPowerMean' },
        constants: {
          C: 'battery.ratedCharge',
          U: 'battery.ratedVoltage',
          eta_c: 'battery.chargeEfficiency',
        },
        valid: [
          {
            test: 'P > 0.01 * P_r',
            constants: { P_r: 'generator.ratedPower' },
            otherwise: 'the battery is charged with less than 1 % of rated power',
          },
          { test: 'P > 0', otherwise: 'the battery is not being charged' },
        ],
        estimated: 'at the mean power of the last 5 min and the rated energy of the battery',
        source: 'E·(1 − SoC)/(η·P)',
      },
    ],
  },
  {
    id: 'timeToEmpty',
    name: 'Time until the battery is empty',
    symbol: 't_empty',
    unit: 's',
    view: 'h',
    group: 'storage',
    ways: [
      {
        formula: '-C * U * SoC / P',
        inputs: { SoC: 'stateOfCharge', P: 'batteryPowerMean' },
        constants: { C: 'battery.ratedCharge', U: 'battery.ratedVoltage' },
        valid: [
          {
            test: 'P < -0.01 * P_r',
            constants: { P_r: 'generator.ratedPower' },
            otherwise: 'the battery is discharged with less than 1 % of rated power',
          },
          { test: 'P < 0', otherwise: 'the battery is not being discharged' },
        ],
        estimated: 'at the mean power of the last 5 min and the rated energy of the battery',
        source: 'E·SoC/P',
      },
    ],
  },
  {
    id: 'chargerEfficiency',
    name: 'Rectifier and charger efficiency',
    symbol: 'η_c',
    unit: '1',
    view: '%',
    group: 'efficiency',
    ways: [
      {
        formula: '(P_b + P_d + P_i + P_l) / P',
        inputs: {
          P_b: 'batteryPower',
          P_d: 'dumpPower',
          P_i: 'inverterInputPower',
          P_l: 'dcLoadPower',
          P: 'activePower',
        },
        defaults: { P_l: NOT_MEASURED },
        applies: (plant) => plant.use === 'rig',
        valid: [
          aboveShare(0.05, { P: 'active power' }, { P_r: 'generator.ratedPower' }),
          { test: 'P > 0', otherwise: 'nothing is generated' },
        ],
        possible: { low: 0, high: 1, suspects: 'battery, dump or inverter shunt, or active power' },
        source: 'what leaves the bus over what the generator gives; battery power + when charging',
      },
    ],
  },
  stageLoss({
    id: 'chargerLoss',
    name: 'Loss of the charger',
    symbol: 'P_vc',
    formula: 'P_dc - P_b - P_d - P_i - P_l',
    inputs: {
      P_dc: 'rectifierPower',
      P_b: 'batteryPower',
      P_d: 'dumpPower',
      P_i: 'inverterInputPower',
      P_l: 'dcLoadPower',
    },
    defaults: { P_l: NOT_MEASURED },
    suspects: 'a current of the bus',
    source: 'power balance of the battery bus',
  }),
]
