import { isMagnet } from '../../quantity.ts'
import { relation } from '../relation.ts'

export const machineVoltage = relation({
  id: 'voltageGap',
  name: 'Generator voltage',
  symbol: 'ΔU_g',
  unit: 'V',
  view: 'V',
  expected: 'U_m',
  measured: '(U_1 + U_2 + U_3) / 3',
  inputs: {
    U_m: 'modelledVoltage',
    U_1: 'phaseVoltage.1',
    U_2: 'phaseVoltage.2',
    U_3: 'phaseVoltage.3',
  },
  needs: ['phaseVoltage.1', 'phaseVoltage.2', 'phaseVoltage.3', 'phaseCurrent.1'],
  applies: isMagnet,
  share: 0.01,
  assumes: 'the magnets or the winding of the generator',
  source: 'E² = (U + I·R)² + (I·ωL)², E = k·ω',
})
