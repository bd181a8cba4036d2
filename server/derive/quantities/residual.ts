import type { Plant } from '../../plant/plant.ts'
import { type FigureRecord, isMeasured, type Way } from '../quantity.ts'

/** What the residual flow is made of: symbol and figure. */
type Part = 'weir' | 'outlet' | 'spill'
const PARTS: Record<Part, readonly [symbol: string, figure: string, name: string]> = {
  weir: ['Q_w', 'weirFlow', 'over the measuring weir'],
  outlet: ['Q_o', 'outletFlow', 'through the outlet'],
  spill: ['Q_s', 'spillFlow', 'over the spillway'],
}

/** Spill alone is no residual flow: what else the river is left is then not known. */
const SUMS: readonly (readonly Part[])[] = [
  ['weir'],
  ['outlet'],
  ['weir', 'outlet'],
  ['weir', 'spill'],
  ['outlet', 'spill'],
  ['weir', 'outlet', 'spill'],
]

/** All that reaches the river. A weir that measures the residual flow has it all, unless the file says what else does. */
function reaching(plant: Plant): Part[] {
  const { weir, residualOutlet, spillway } = plant
  const isWhole = weir?.measures === 'residualFlow'
  const spills = spillway !== undefined || weir?.measures === 'spillFlow' || isMeasured(plant, 'spillFlow')
  const reaches: Record<Part, boolean> = {
    weir: isWhole,
    outlet: residualOutlet !== undefined && (residualOutlet.reachesRiver ?? !isWhole),
    spill: spills && (spillway?.reachesRiver ?? !isWhole),
  }
  return (['weir', 'outlet', 'spill'] as const).filter((part) => reaches[part])
}

function sumOf(parts: readonly Part[]): Way {
  const chosen = parts.map((part) => PARTS[part])
  return {
    formula: chosen.map(([symbol]) => symbol).join(' + '),
    inputs: Object.fromEntries(chosen.map(([symbol, figure]) => [symbol, figure])),
    applies: (plant) => reaching(plant).join() === parts.join(),
    source: `continuity: all that reaches the river, ${chosen.map(([, , name]) => name).join(' and ')}`,
  }
}

/** What is left in the river, and what the licence asks for. */
export const residual: readonly FigureRecord[] = [
  {
    id: 'outletFlow',
    name: 'Flow through the residual outlet',
    symbol: 'Q_o',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    formula: 'z > z_o ? C_d * a * sqrt(2 * g * (z - z_o)) : 0',
    inputs: { z: 'pondLevel', g: 'gravity' },
    constants: {
      C_d: 'residualOutlet.coefficient',
      a: 'residualOutlet.area',
      z_o: 'residualOutlet.centre',
    },
    applies: (plant) => plant.residualOutlet !== undefined,
    estimated: 'orifice law with the coefficient of the plant file; the outlet is not calibrated',
    source: 'free outflow of an orifice, Q = Cd·a·√(2gh), nothing at a level below its centre',
  },
  {
    id: 'residualFlow',
    name: 'Residual flow',
    symbol: 'Q_res',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    ways: SUMS.map(sumOf),
  },
  {
    id: 'residualShare',
    name: 'Residual flow over what the licence demands',
    symbol: 's_r',
    unit: '1',
    view: '%',
    group: 'water',
    formula: 'Q / Q_l',
    inputs: { Q: 'residualFlow' },
    constants: { Q_l: 'licence.handsOffFlow' },
    source: 'definition',
  },
]
