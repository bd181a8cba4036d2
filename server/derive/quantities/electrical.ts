import { awayFromZero, type FigureRecord, isMeasured, type Quantity, type Way } from '../quantity.ts'
import { POWER } from './beliefs.ts'

/**
 * A measure of how unlike the voltages between phases are. Voltages to neutral alone cannot tell it: a neutral that is
 * off centre makes them unlike where the machine sees nothing of it.
 */
function unbalanceOf(
  figure: Pick<Quantity, 'id' | 'name' | 'symbol'> & { call: string; source: string },
): Quantity {
  const { call, source, ...names } = figure
  const ways: Way[] = [
    {
      formula: `${call}(U)`,
      inputs: { U: 'lineVoltage.1..3' },
      valid: [
        ...awayFromZero(0.05, { 'mean(U)': ['voltage', 'no voltage'] }, 'generator.ratedVoltage'),
        {
          test: '2 * max(U) <= sum(U)',
          otherwise: 'the three voltages close no triangle: one of them is wrong',
          isFault: true,
        },
      ],
      source,
    },
    {
      formula: `${call}(voltageBetween(U_1, U_2, phi_2), voltageBetween(U_2, U_3, phi_3 - phi_2), voltageBetween(U_3, U_1, phi_3))`,
      inputs: {
        U_1: 'phaseVoltage.1',
        U_2: 'phaseVoltage.2',
        U_3: 'phaseVoltage.3',
        phi_2: 'voltageAngle.2',
        phi_3: 'voltageAngle.3',
      },
      valid: awayFromZero(
        0.05,
        { '(U_1 + U_2 + U_3) / 3': ['voltage', 'no voltage'] },
        'generator.ratedVoltage',
      ),
      source: `${source}; these from the phase voltages and the angles between them`,
    },
  ]
  return { ...names, unit: '1', view: '%', group: 'electrical', ways }
}

/**
 * Power and phases at the terminals. Signs are those of the generator convention (IEC 60375): active and reactive power
 * are positive where the machine delivers them, so an induction generator's reactive power is negative.
 */
export const electrical: readonly FigureRecord[] = [
  {
    id: 'activePower',
    likely: POWER,
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
    formula: 'P / S',
    inputs: { P: 'activePower', S: 'apparentPower' },
    valid: awayFromZero(0.02, { S: ['apparent power', 'no current'] }, 'generator.ratedPower'),
    possible: { low: -1, high: 1.005, suspects: 'phase voltages, phase currents or active power' },
    source: 'λ = P/S',
  },
  {
    id: 'nonactivePower',
    name: 'Non-active power |Q|',
    symbol: '|Q|',
    unit: 'var',
    group: 'electrical',
    formula: 'sqrt(S^2 - P^2)',
    inputs: { S: 'apparentPower', P: 'activePower' },
    valid: [
      ...awayFromZero(0.02, { 'max(S, abs(P))': ['apparent power', 'no current'] }, 'generator.ratedPower'),
      {
        test: 'S > 0.99 * abs(P)',
        otherwise: 'apparent power is less than active power: one of voltage, current and power is wrong',
        isFault: true,
      },
      {
        test: 'S > 1.01 * abs(P)',
        otherwise: 'apparent and active power are within 1 %: too little to tell',
      },
    ],
    source:
      'IEC 60050-131 and IEEE 1459: √(S² − P²), which has no sign; without harmonics it is the magnitude of the reactive power',
  },
  unbalanceOf({
    id: 'voltageUnbalance',
    name: 'Voltage unbalance (largest deviation)',
    symbol: 'u_U',
    call: 'phaseUnbalance',
    source: 'NEMA MG 1: largest deviation of the voltages between phases from their mean, over the mean',
  }),
  unbalanceOf({
    id: 'negativeSequence',
    name: 'Voltage unbalance (negative sequence)',
    symbol: 'u_2',
    call: 'negativeSequenceRatio',
    source: 'IEC 61000-4-30: negative over positive sequence, from the three voltages between phases',
  }),
  {
    id: 'currentUnbalance',
    name: 'Current unbalance',
    symbol: 'u_I',
    unit: '1',
    view: '%',
    group: 'electrical',
    formula: 'phaseUnbalance(I)',
    inputs: { I: 'phaseCurrent.1..3' },
    valid: awayFromZero(0.05, { 'mean(I)': ['current', 'no current'] }, 'generator.ratedCurrent'),
    source: 'largest deviation from the mean over the mean',
  },
  {
    id: 'meanPhaseVoltage',
    name: 'Mean phase voltage',
    symbol: 'U_m',
    unit: 'V',
    group: 'electrical',
    formula: 'mean(U)',
    inputs: { U: 'phaseVoltage.*' },
    source: 'mean of the measured phases; a trial of the machine is drawn over it',
  },
  {
    id: 'meanPhaseCurrent',
    name: 'Mean phase current',
    symbol: 'I_m',
    unit: 'A',
    group: 'electrical',
    formula: 'mean(I)',
    inputs: { I: 'phaseCurrent.*' },
    source: 'mean of the measured phases; a trial of the machine is drawn over it',
  },
]
