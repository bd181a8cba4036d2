import { aboveShare, isMagnet, type Quantity } from '../quantity.ts'

/** What goes on inside the generator. */
export const generator: readonly Quantity[] = [
  {
    id: 'noLoadVoltage',
    name: 'Voltage without load at this speed',
    symbol: 'U_0',
    unit: 'V',
    group: 'electrical',
    background: true,
    ways: [
      {
        formula: 'k_e * omega',
        inputs: { omega: 'speed' },
        constants: { k_e: 'generator.voltageConstant' },
        applies: isMagnet,
        source: 'permanent-magnet machine: E = k_e·n, one phase RMS',
      },
    ],
  },
  {
    id: 'internalEmf',
    name: 'Internal voltage by the terminals',
    symbol: 'E',
    unit: 'V',
    group: 'electrical',
    background: true,
    ways: [
      {
        formula: 'sqrt((mean(U) + mean(I) * R)^2 + (mean(I) * z_p * omega * L)^2)',
        inputs: { U: 'phaseVoltage.*', I: 'phaseCurrent.*', omega: 'speed' },
        constants: {
          R: 'generator.windingResistance',
          L: 'generator.windingInductance',
          z_p: 'generator.polePairs',
        },
        applies: isMagnet,
        source: 'phasor diagram at unity power factor, E² = (U + I·R)² + (I·ω·L)², mean of the phases',
      },
    ],
  },
  {
    id: 'modelledVoltage',
    name: 'Voltage by the machine model',
    symbol: 'U_m',
    unit: 'V',
    group: 'electrical',
    background: true,
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
  },
  {
    id: 'voltageRegulation',
    name: 'Voltage regulation',
    symbol: 'u_r',
    unit: '1',
    view: '%',
    group: 'electrical',
    ways: [
      {
        formula: '(U_0 - mean(U)) / mean(U)',
        inputs: { U_0: 'noLoadVoltage', U: 'phaseVoltage.*' },
        applies: isMagnet,
        valid: [
          aboveShare(0.2, { 'mean(U)': 'voltage' }, { U_r: 'generator.ratedVoltage' }),
          { test: 'mean(U) > 0', otherwise: 'no voltage' },
        ],
        source: '(U₀ − U)/U at the present speed, mean of the phases; IEEE 115 (from memory)',
      },
    ],
  },
  {
    id: 'copperLoss',
    name: 'Copper loss of the generator',
    symbol: 'P_cu',
    unit: 'W',
    group: 'electrical',
    background: true,
    ways: [
      {
        formula: 'm * mean(I)^2 * R',
        inputs: { I: 'phaseCurrent.*' },
        constants: { m: 'generator.phases', R: 'generator.windingResistance' },
        source: "Joule's law, m phases of I²·R at the warm resistance",
      },
    ],
  },
]
