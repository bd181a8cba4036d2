import { isMagnet, type Way } from '../../quantity.ts'
import { type Relation, relation } from '../relation.ts'

const PHASES = [1, 2, 3].flatMap((phase) => [`phaseVoltage.${phase}`, `phaseCurrent.${phase}`])

type FactorFrom = Pick<Relation, 'id' | 'name' | 'assumes'> &
  Pick<Way, 'constants'> & { symbol: string; measuredFactor?: string }

/** The power of a meter against its own voltages and currents; the power factor is measured or in the plant file. */
function phaseByPhase({ measuredFactor, ...text }: FactorFrom): Relation {
  const factor = measuredFactor === undefined ? {} : { lambda: measuredFactor }
  return relation({
    ...text,
    unit: 'W',
    expected: 'S * lambda',
    measured: 'P',
    inputs: { S: 'apparentPower', P: 'activePower', ...factor },
    needs: ['activePower', ...Object.values(factor), ...PHASES],
    share: 0.003,
    source: 'sum of the phase powers: a wrong ratio of a current transformer shows here',
  })
}

/** A permanent magnet machine on a rectifier has three like phases: each is held against the next. */
function likePhases(kind: 'Voltage' | 'Current', first: 1 | 2, share: number): Relation {
  const symbol = kind === 'Voltage' ? 'U' : 'I'
  const [a, b] = [`phase${kind}.${first}`, `phase${kind}.${first + 1}`]
  return relation({
    id: `phase${kind}Residual.${first}`,
    name: `Phase ${kind.toLowerCase()}s ${first} and ${first + 1}`,
    symbol: `Δ${symbol}_${first}`,
    unit: kind === 'Voltage' ? 'V' : 'A',
    view: kind === 'Voltage' ? 'V' : 'A',
    expected: 'x',
    measured: 'y',
    inputs: { x: a, y: b },
    needs: [a, b],
    applies: isMagnet,
    share,
    assumes: `the balance of the phases`,
    source: 'symmetry of a three-phase winding on a rectifier',
  })
}

/** The terminals of the generator: meter, phases, machine model. */
export const terminals: readonly Relation[] = [
  phaseByPhase({
    id: 'meterResidual',
    name: 'Power meter, phase by phase',
    symbol: 'ΔP_m',
    constants: { lambda: 'generator.loadPowerFactor' },
    assumes: 'the power factor of the plant file',
  }),
  phaseByPhase({
    id: 'meterFactorResidual',
    name: 'Power meter, phase by phase with its power factor',
    symbol: 'ΔP_λ',
    measuredFactor: 'powerFactor',
    assumes: 'the meter',
  }),
  likePhases('Voltage', 1, 0.002),
  likePhases('Voltage', 2, 0.002),
  likePhases('Current', 1, 0.003),
  likePhases('Current', 2, 0.003),
  relation({
    id: 'voltageResidual',
    name: 'Generator voltage',
    symbol: 'ΔU_g',
    unit: 'V',
    expected: 'U_m',
    measured: 'mean(U)',
    inputs: { U_m: 'modelledVoltage', U: 'phaseVoltage.*' },
    needs: ['phaseVoltage.1', 'phaseCurrent.1'],
    applies: isMagnet,
    share: 0.01,
    assumes: 'the magnets or the winding of the generator',
    source: 'E² = (U + I·R)² + (I·ωL)², E = k·ω',
  }),
]
