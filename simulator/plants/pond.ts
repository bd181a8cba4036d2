import { createWander } from './parts.ts'
import { createReservoir, intakeCover, type ReservoirDesign, rackResistance } from './reservoir.ts'
import type { Supply } from './supply.ts'

export interface PondDesign {
  kind: 'pond'
  /** ρg [N/m³] */
  specificWeight: number
  reservoir: ReservoirDesign
  rack: { loss: number; atDischarge: number }
  /** The headwater's gauge stands behind the rack, another one before it. */
  isGaugeBehindRack: boolean
  /** Zero of the pond's gauge over where the head ends [m]. */
  height: number
  tailwaterLevel: number
  waterTemperature: number
  /** Waves on the pond [m, s]. */
  waves: { sigma: number; timeConstant: number }
  /** Reading of the gauge that it begins with [m]. */
  level: number
  /** Id of the control, and what comes down the river at first [m³/s]. */
  inflow: { id: string; initial: number }
}

/** Pond behind a weir, with the rack before the pipe. */
export function createPond(design: PondDesign, random: (() => number) | undefined): Supply {
  const { specificWeight, inflow } = design
  const reservoir = createReservoir(design.reservoir, design.level)
  const waves = createWander(random, design.waves)
  let rack = rackResistance(design.rack, 0)
  let rackLoss = design.rack.loss
  const level = () => reservoir.level() + waves.value()
  const drivingHead = () => (design.height + level()) * intakeCover(reservoir.level() - rackLoss)

  return {
    settings: { [inflow.id]: inflow.initial, blockage: 0 },
    drivingHead,
    loss: () => rack,
    waterTemperature: () => design.waterTemperature,
    step(dt, { settings, discharge }) {
      waves.step(dt)
      rack = rackResistance(design.rack, Number(settings['blockage']))
      rackLoss = rack * discharge ** 2
      reservoir.step(dt, { inflow: Number(settings[inflow.id]), turbine: discharge })
    },
    truth({ netHead }) {
      const headwaterLevel = design.isGaugeBehindRack ? level() - rackLoss : level()
      const grossHead = design.height + headwaterLevel
      return {
        headwaterLevel,
        rackUpstreamLevel: level(),
        tailwaterLevel: design.tailwaterLevel,
        rackDifferential: rackLoss,
        residualFlow: reservoir.residualFlow(),
        spillFlow: reservoir.spillFlow(),
        grossHead,
        headLoss: grossHead - netHead,
      }
    },
    book: (discharge) => ({
      supplied: specificWeight * discharge * drivingHead(),
      lost: { rack: specificWeight * rack * discharge ** 3 },
    }),
  }
}
