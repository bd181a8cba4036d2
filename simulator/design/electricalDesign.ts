import type { Plant } from '../../server/plant/plant.ts'
import type { GridDesign } from '../plants/gridSide.ts'
import type { EfficiencyDesign } from '../plants/lossCurve.ts'
import type { PlantDesign } from '../plants/plant.ts'
import { busDesign } from './busDesign.ts'
import type { Sources } from './given.ts'
import { islandDesign, reactancesOf } from './islandDesign.ts'
import { lossesOf } from './losses.ts'

/** What can be played on a battery bus, on a grid of its own, and on a grid. */
const MACHINES = {
  bus: ['permanentMagnet'],
  island: ['synchronous', 'permanentMagnet'],
  grid: ['induction', 'synchronous'],
} as const

export function electricalDesign(plant: Plant, sources: Sources): PlantDesign['electrical'] {
  const { given, built } = sources
  if (plant.generator?.phases === 1)
    given.fault('generator.phases', '1', '3: machines of one phase are not played')
  const kinds = (['bus', 'island', 'grid'] as const).filter((one) => built[one] !== undefined)
  const kind = kinds[0] ?? 'grid'
  if (kinds.length !== 1)
    given.fault('simulation.built', kinds.join(' and ') || 'nothing', 'one of bus, island and grid')
  const machines: readonly string[] = MACHINES[kind]
  if (!machines.includes(plant.generator?.kind ?? ''))
    given.fault(
      'generator.kind',
      plant.generator?.kind ?? 'nothing',
      `${machines.join(' or ')} for "${kind}"`,
    )
  if (kind === 'bus') return busDesign(plant, sources)
  return kind === 'island' ? islandDesign(plant, sources) : gridDesign(plant, sources)
}

function gridDesign(plant: Plant, sources: Sources): GridDesign {
  const { given, built } = sources
  const losses = lossesOf(plant, sources)
  const { relayDelay = 0, runUp = 0 } = built.grid ?? {}
  return {
    kind: 'grid',
    machine: machineDesign(plant, { ...sources, losses }),
    losses,
    voltage: given.need('generator.ratedVoltage'),
    frequency: given.need('generator.ratedFrequency'),
    ratedPower: losses.ratedOutput,
    relayDelay,
    runUp,
  }
}

function machineDesign(
  { generator }: Plant,
  sources: Sources & { losses: EfficiencyDesign },
): GridDesign['machine'] {
  const { given, built, losses } = sources
  const polePairs = given.need('generator.polePairs')
  const synchronousSpeed = (2 * Math.PI * given.need('generator.ratedFrequency')) / polePairs
  const gapPower = losses.ratedOutput / losses.curve.at(-1)![1] - losses.noLoadLoss
  const reactive = ratedReactive(sources)
  if (generator?.kind === 'synchronous') {
    const rated = { gapPower, reactive, voltage: given.need('generator.ratedVoltage') }
    const reactance = reactancesOf(sources).transientReactance
    return { kind: 'synchronous', synchronousSpeed, polePairs, reactance, rated }
  }
  const ratedSpeed = given.need('generator.ratedSpeed')
  const ratedSlip = ratedSpeed / synchronousSpeed - 1
  const { capacitors = 0, connectAt = 1 } = built.grid ?? {}
  return {
    kind: 'induction',
    synchronousSpeed,
    ratedTorque: gapPower / ratedSpeed,
    ratedSlip,
    breakdownSlip: built.generator.breakdownSlip ?? 5 * ratedSlip,
    reactive: { noLoad: built.generator.noLoadReactive ?? 0.7 * reactive, rated: reactive, capacitors },
    ratedPower: losses.ratedOutput,
    connectAt,
  }
}

/** √(S² − P²) of the rated state [var]. */
function ratedReactive({ given }: Sources): number {
  const apparent = 3 * given.need('generator.ratedVoltage') * given.need('generator.ratedCurrent')
  return Math.sqrt(Math.max(0, apparent ** 2 - given.need('generator.ratedPower') ** 2))
}
