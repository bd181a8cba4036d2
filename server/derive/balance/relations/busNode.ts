import type { Plant } from '../../../plant/plant.ts'
import { isMeasured, NOT_MEASURED } from '../../quantity.ts'
import { relation } from '../relation.ts'

/** Branches of the bus that are measured. */
function branchesOf(plant: Plant): number {
  const branches = [
    ['batteryCurrent'],
    ['dumpCurrent', 'dumpPower'],
    ['inverterInputCurrent'],
    ['dcLoadCurrent'],
  ]
  return branches.filter((currents) => currents.some((one) => isMeasured(plant, one))).length
}

export const busNode = relation({
  id: 'busGap',
  name: 'Charger to the battery bus',
  symbol: 'ΔP_b',
  unit: 'W',
  view: 'W',
  expected: 'P_dc * eta_c',
  measured: 'P_b + P_d + P_i + P_l',
  inputs: {
    P_dc: 'rectifierPower',
    P_b: 'batteryPower',
    P_d: 'dumpPower',
    P_i: 'inverterInputPower',
    P_l: 'dcLoadPower',
  },
  constants: { eta_c: 'charger.efficiency' },
  defaults: {
    P_b: NOT_MEASURED,
    P_d: NOT_MEASURED,
    P_i: NOT_MEASURED,
    P_l: NOT_MEASURED,
    eta_c: { value: 1, unit: '1', says: 'there is no charger' },
  },
  needs: ['dcVoltage', 'dcCurrent'],
  applies: (plant) =>
    branchesOf(plant) >= 2 && (plant.charger === undefined || plant.constants.has('charger.efficiency')),
  share: 0.007,
  assumes: 'the charger, or a load on the bus that nobody measures',
  source: 'power balance of a node; the charger’s efficiency is the constant of the plant file',
})
