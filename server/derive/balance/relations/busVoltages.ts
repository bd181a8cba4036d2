import { relation } from '../relation.ts'

export const batteryAndInverterVoltage = relation({
  id: 'inverterVoltageGap',
  name: 'Battery and inverter voltage',
  symbol: 'ΔU_i',
  unit: 'V',
  view: 'V',
  expected: 'U_b',
  measured: 'U_i',
  inputs: { U_b: 'batteryVoltage', U_i: 'inverterInputVoltage' },
  needs: ['batteryVoltage', 'inverterInputVoltage'],
  share: 0.003,
  assumes: 'a cable or fuse of the bus',
  source: 'one node has one voltage',
})

export const batteryAndDumpVoltage = relation({
  id: 'dumpVoltageGap',
  name: 'Battery and dump load voltage',
  symbol: 'ΔU_d',
  unit: 'V',
  view: 'V',
  expected: 'U_b',
  measured: 'U_d',
  inputs: { U_b: 'batteryVoltage', U_d: 'dumpVoltage' },
  needs: ['batteryVoltage', 'dumpVoltage'],
  share: 0.003,
  assumes: 'a cable or fuse of the bus',
  source: 'one node has one voltage',
})
