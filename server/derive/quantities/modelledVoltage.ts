import { isMagnet, type Quantity } from '../quantity.ts'

export const modelledVoltage: Quantity = {
  id: 'modelledVoltage',
  name: 'Voltage by the machine model',
  symbol: 'U_m',
  unit: 'V',
  view: 'V',
  group: 'electrical',
  ways: [
    {
      formula: 'magnetMachineVoltage(k_e * omega, R, z_p * omega * L, mean(I))',
      inputs: { I: 'phaseCurrent.*', omega: 'speed' },
      constants: {
        k_e: 'generator.voltageConstant',
        R: 'generator.windingResistance',
        L: 'generator.windingInductance',
        z_p: 'generator.polePairs',
      },
      applies: isMagnet,
      source: 'phasor diagram at unity power factor, U = √(E² − (I·ω·L)²) − I·R with E = k_e·n',
    },
  ],
}
