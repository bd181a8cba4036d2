import type { Plant } from '../../server/plant/plant.ts'
import { bestSpeedExponent } from '../plants/runner.ts'
import type { ShaftDesign } from '../plants/shaft.ts'
import type { Sources } from './given.ts'
import { noLoadLossOf } from './losses.ts'

export function shaftDesign({ turbine }: Plant, sources: Sources): ShaftDesign {
  const { given, built } = sources
  const ratio = turbine?.driveRatio ?? 1
  const efficiency = turbine?.driveEfficiency ?? 1
  const ratedSpeed = given.need('generator.ratedSpeed')
  const runawayRatio = (given.need('turbine.runawaySpeed') * ratio) / ratedSpeed
  const input = given.need('turbine.ratedShaftPower') * efficiency
  return {
    runner: {
      head: given.need('turbine.ratedNetHead'),
      speed: ratedSpeed,
      runawayRatio,
      exponent: built.turbine.torqueExponent ?? bestSpeedExponent(runawayRatio),
    },
    drive: { ratio, efficiency },
    inertia: given.need('generator.inertia'),
    flywheel: built.generator.flywheel,
    ratedSpeed,
    noLoadLoss: noLoadLossOf(sources),
    dryShare: built.generator.dryShare,
    ratedLoadLoss: Math.max(1e-6, input - given.need('generator.ratedPower') - noLoadLossOf(sources)),
    airTemperature: built.airTemperature,
    winding: built.generator.winding,
    bearings: built.generator.bearings,
  }
}
