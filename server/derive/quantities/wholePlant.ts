import { awayFromZero, type FigureRecord, whileNotMotoring } from '../quantity.ts'
import { WATER } from './place.ts'

/** From one end of the plant to the other. */
export const wholePlant: readonly FigureRecord[] = [
  {
    id: 'chainEfficiency',
    name: 'Efficiency from the pump to the loads',
    symbol: 'η_ch',
    unit: '1',
    view: '%',
    group: 'efficiency',
    steady: ['rotor', 'water'],
    formula: 'P_o / P_m',
    inputs: { P_o: 'inverterOutputPower', P_m: 'pumpInputPower' },
    valid: [{ test: 'P_m > 0', otherwise: 'the pump does not run' }],
    possible: { low: 0, high: 1, suspects: 'pump input or inverter output' },
    source: 'definition',
  },
  {
    id: 'pumpToWireEfficiency',
    name: 'Pump-to-wire efficiency',
    symbol: 'η_pw',
    unit: '1',
    view: '%',
    group: 'efficiency',
    steady: ['rotor', 'water'],
    formula: 'P / P_m',
    inputs: { P: 'activePower', P_m: 'pumpInputPower' },
    valid: [whileNotMotoring('P'), { test: 'P_m > 0', otherwise: 'the pump does not run' }],
    possible: { low: 0, high: 1, suspects: 'pump input or generator power' },
    source: 'definition; at equal pump speed and discharge it compares ways to throttle',
  },
  {
    id: 'specificEnergy',
    name: 'Energy per volume of water',
    symbol: 'e',
    unit: 'J/m3',
    view: 'kW.h/m3',
    group: 'efficiency',
    steady: ['rotor', 'water'],
    formula: 'P / Q',
    inputs: { P: 'activePower', Q: 'discharge' },
    valid: [
      whileNotMotoring('P'),
      ...awayFromZero(0.05, { Q: ['discharge', 'no discharge'] }, 'turbine.ratedDischarge'),
    ],
    likely: [
      {
        test: 'x < 1.02 * e_0 + u_95',
        inputs: { e_0: 'idealSpecificEnergy' },
        otherwise: 'more energy is made of the water than is in it: check power, discharge and levels',
      },
    ],
    source: 'definition: energy made per volume used',
  },
  {
    id: 'idealSpecificEnergy',
    name: 'Ideal energy per volume of water',
    symbol: 'e_0',
    unit: 'J/m3',
    view: 'kW.h/m3',
    group: 'efficiency',
    background: true,
    ways: [
      {
        formula: 'rho * g * H_g',
        inputs: { ...WATER, H_g: 'grossHead' },
        source: 'ρ·g·H: 1 kWh/m³ per 367 m',
      },
      {
        formula: 'rho * g * H_n',
        inputs: { ...WATER, H_n: 'netHead' },
        source: 'ρ·g·H at net head, as the plant has no gross head: 1 kWh/m³ per 367 m',
      },
    ],
  },
]
