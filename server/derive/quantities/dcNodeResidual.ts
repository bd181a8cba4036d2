import { isMeasured, type Quantity, type Way } from '../quantity.ts'

/** Branches of the battery bus; the most that a plant has of them counts. */
const BRANCHES: readonly (readonly [symbol: string, figure: string])[] = [
  ['P_b', 'batteryPower'],
  ['P_d', 'dumpPower'],
  ['P_i', 'inverterInputPower'],
  ['P_l', 'dcLoadPower'],
]

const subsets = Array.from({ length: 2 ** BRANCHES.length }, (_, bits) =>
  BRANCHES.filter((_branch, i) => (bits >> i) & 1),
)
  .filter((branches) => branches.length >= 2)
  .sort((a, b) => b.length - a.length)

function wayOf(branches: typeof BRANCHES, hasCharger: boolean): Way {
  const sum = branches.map(([symbol]) => symbol).join(' + ')
  return {
    formula: `${hasCharger ? 'P_dc * eta' : 'P_dc'} - (${sum})`,
    inputs: { P_dc: 'rectifierPower', ...Object.fromEntries(branches) },
    ...(hasCharger
      ? {
          constants: { eta: 'charger.efficiency' },
          estimated: 'the charger counts with its efficiency of the plant file',
        }
      : {}),
    applies: (plant) =>
      isMeasured(plant, 'dcVoltage', 'dcCurrent') && (plant.charger !== undefined) === hasCharger,
    source: 'the branches of one bus add up to nothing; what is left over is a loss or a wrong shunt',
  }
}

export const dcNodeResidual: Quantity = {
  id: 'dcNodeResidual',
  name: 'Direct-current power not accounted for',
  symbol: 'ΔP_dc',
  unit: 'W',
  view: 'W',
  group: 'condition',
  ways: [true, false].flatMap((hasCharger) => subsets.map((branches) => wayOf(branches, hasCharger))),
}
