import { isMagnet } from '../../quantity.ts'
import { type Relation, relation } from '../relation.ts'

/** A permanent magnet machine on a rectifier has three like phases: each is held against the next. */
function likePhases(kind: 'Voltage' | 'Current', first: 1 | 2, share: number): Relation {
  const symbol = kind === 'Voltage' ? 'U' : 'I'
  const [a, b] = [`phase${kind}.${first}`, `phase${kind}.${first + 1}`]
  return relation({
    id: `phase${kind}Gap.${first}`,
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

export const phaseVoltages12 = likePhases('Voltage', 1, 0.002)
export const phaseVoltages23 = likePhases('Voltage', 2, 0.002)
export const phaseCurrents12 = likePhases('Current', 1, 0.003)
export const phaseCurrents23 = likePhases('Current', 2, 0.003)
