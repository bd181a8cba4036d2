import { relation } from '../relation.ts'

export const busNode = relation({
  id: 'busGap',
  name: 'Charger to the battery bus',
  symbol: 'ΔP_b',
  unit: 'W',
  view: 'W',
  expected: 'U * I * eta_c',
  measured: 'P_b + P_d + P_i',
  inputs: {
    U: 'dcVoltage',
    I: 'dcCurrent',
    P_b: 'batteryPower',
    P_d: 'dumpPower',
    P_i: 'inverterInputPower',
  },
  constants: { eta_c: 'charger.efficiency' },
  needs: ['dcVoltage', 'dcCurrent', 'batteryVoltage', 'batteryCurrent', 'inverterInputCurrent'],
  share: 0.007,
  assumes: 'the charger, or a load on the bus that nobody measures',
  source: 'power balance of a node; the charger’s efficiency is the constant of the plant file',
})
