import { aboveShare, isMeasured, type Quantity } from '../quantity.ts'

/** Power and phases at the terminals. */
export const electrical: readonly Quantity[] = [
  {
    id: 'activePower',
    name: 'Active power',
    symbol: 'P',
    unit: 'W',
    group: 'electrical',
    ways: [
      {
        formula: 'S * lambda',
        inputs: { S: 'apparentPower', lambda: 'powerFactor' },
        source: 'P = S·cos φ',
      },
      {
        formula: 'U * I',
        inputs: { U: 'dcVoltage', I: 'dcCurrent' },
        applies: (plant) => plant.generator?.kind === 'directCurrent',
        source: 'P = U·I of a direct-current generator',
      },
    ],
  },
  {
    id: 'apparentPower',
    name: 'Apparent power',
    symbol: 'S',
    unit: 'V.A',
    group: 'electrical',
    ways: [
      {
        formula: 'sum(U * I)',
        inputs: { U: 'phaseVoltage.1..3', I: 'phaseCurrent.1..3' },
        source: 'sum of the phases, U·I',
      },
      {
        formula: 'U * I',
        inputs: { U: 'phaseVoltage.1', I: 'phaseCurrent.1' },
        applies: (plant) => plant.generator?.phases === 1,
        source: 'S = U·I',
      },
      {
        formula: 'sqrt(3) * mean(U) * mean(I)',
        inputs: { U: 'lineVoltage.*', I: 'phaseCurrent.*' },
        applies: (plant) => plant.generator?.phases === 3,
        source: 'S = √3·U·I with the voltage between phases, means of what is measured; balanced load',
      },
      {
        formula: 'sqrt(P^2 + Q^2)',
        inputs: { P: 'activePower', Q: 'reactivePower' },
        applies: (plant) => isMeasured(plant, 'activePower', 'reactivePower'),
        source: 'S = √(P² + Q²)',
      },
    ],
  },
  {
    id: 'powerFactor',
    name: 'Power factor',
    symbol: 'λ',
    unit: '1',
    group: 'electrical',
    ways: [
      {
        formula: 'P / S',
        inputs: { P: 'activePower', S: 'apparentPower' },
        valid: [
          aboveShare(0.02, { S: 'apparent power' }, { P_r: 'generator.ratedPower' }),
          { test: 'S > 0', otherwise: 'no current' },
        ],
        possible: { low: -1, high: 1.005, suspects: 'phase voltages, phase currents or active power' },
        source: 'λ = P/S',
      },
    ],
  },
  {
    id: 'reactivePower',
    name: 'Reactive power',
    symbol: 'Q_r',
    unit: 'var',
    group: 'electrical',
    ways: [
      {
        formula: 'sqrt(S^2 - P^2)',
        inputs: { S: 'apparentPower', P: 'activePower' },
        valid: [
          {
            test: 'S > 1.01 * P',
            otherwise: 'apparent and active power are within 1 %: too little to tell',
          },
        ],
        source: 'Q = √(S² − P²), without its sign',
      },
    ],
  },
  {
    id: 'voltageUnbalance',
    name: 'Voltage unbalance',
    symbol: 'u_U',
    unit: '1',
    view: '%',
    group: 'electrical',
    ways: [
      {
        formula: 'phaseUnbalance(U)',
        inputs: { U: 'phaseVoltage.1..3' },
        valid: [{ test: 'sum(U) > 0', otherwise: 'no voltage' }],
        source: 'largest deviation from the mean over the mean',
      },
    ],
  },
  {
    id: 'currentUnbalance',
    name: 'Current unbalance',
    symbol: 'u_I',
    unit: '1',
    view: '%',
    group: 'electrical',
    ways: [
      {
        formula: 'phaseUnbalance(I)',
        inputs: { I: 'phaseCurrent.1..3' },
        valid: [
          aboveShare(0.05, { 'mean(I)': 'current' }, { I_r: 'generator.ratedCurrent' }),
          { test: 'sum(I) > 0', otherwise: 'no current' },
        ],
        source: 'largest deviation from the mean over the mean',
      },
    ],
  },
  {
    id: 'meanPhaseVoltage',
    name: 'Mean phase voltage',
    symbol: 'U_m',
    unit: 'V',
    group: 'electrical',
    ways: [
      {
        formula: 'mean(U)',
        inputs: { U: 'phaseVoltage.*' },
        source: 'mean of the measured phases; a trial of the machine is drawn over it',
      },
    ],
  },
  {
    id: 'meanPhaseCurrent',
    name: 'Mean phase current',
    symbol: 'I_m',
    unit: 'A',
    group: 'electrical',
    ways: [
      {
        formula: 'mean(I)',
        inputs: { I: 'phaseCurrent.*' },
        source: 'mean of the measured phases; a trial of the machine is drawn over it',
      },
    ],
  },
]
