import { relation } from '../relation.ts'

export const islandNode = relation({
  id: 'islandGap',
  name: 'Generator to loads and dump',
  symbol: 'ΔP_n',
  unit: 'W',
  view: 'W',
  expected: 'P',
  measured: 'P_l + P_d + P_b',
  inputs: { P: 'activePower', P_l: 'loadPower', P_d: 'dumpPower', P_b: 'batteryPower' },
  needs: ['activePower', 'loadPower', 'dumpPower', 'batteryVoltage', 'batteryCurrent'],
  applies: ({ use }) => use === 'offGrid',
  share: 0.02,
  assumes: 'the converter of the battery, or a load that nobody measures',
  source: 'power balance of a node',
})
