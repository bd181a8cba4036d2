import type { EnergyBook } from './model.ts'
import { createWander } from './parts.ts'
import { createReservoir, intakeCover, type ReservoirDesign, rackResistance } from './reservoir.ts'
import { createWaterColumn, type PipeDesign } from './waterColumn.ts'

export interface WaterwayDesign {
  /** Water density [kg/m³]. */
  density: number
  pipe: PipeDesign
  pond: ReservoirDesign
  rack: { loss: number; atDischarge: number }
  /** Zero of the pond's gauge, level that the head ends at, and the penstock gauge [m above the plant's datum]. */
  elevations: { pond: number; outlet: number; gauge: number }
  /** Waves on the pond [m, s]. */
  waves: { sigma: number; timeConstant: number }
  /** Level of the pond [m] and discharge [m³/s] that it begins with. */
  initial: { level: number; discharge: number }
}

export interface WaterwayOrders {
  /** Water that comes to the pond [m³/s]. */
  inflow: number
  /** Share of the rack that is blocked. */
  blocked: number
  /** Head that drives the outlet per discharge squared [s²/m⁵]; Infinity when shut. */
  outletResistance: number
}

/** Pond, rack and penstock. */
export function createWaterway(design: WaterwayDesign, random: (() => number) | undefined) {
  const { elevations } = design
  const specificWeight = design.density * design.pipe.gravity
  const column = createWaterColumn(design.pipe, design.initial.discharge)
  const pond = createReservoir(design.pond, design.initial.level)
  const waves = createWander(random, design.waves)
  let rackLoss = design.rack.loss

  const weightFlow = () => specificWeight * column.discharge()
  const hydraulicPower = () => weightFlow() * column.outletHead()
  const pondHead = () => elevations.pond + pond.level() + waves.value() - elevations.outlet
  const drivingHead = () => pondHead() * intakeCover(pond.level() - rackLoss)

  return {
    discharge: () => column.discharge(),
    netHead: () => column.outletHead(),
    hydraulicPower,
    /** From the pond's surface to where the head ends [m]. */
    pondHead,
    /** Of the pond above its gauge zero [m], calm and with its waves. */
    pondLevel: () => pond.level(),
    waveLevel: () => pond.level() + waves.value(),
    rackLoss: () => rackLoss,
    step(dt: number, { inflow, blocked, outletResistance }: WaterwayOrders): void {
      waves.step(dt)
      const rack = rackResistance(design.rack, blocked)
      rackLoss = rack * column.discharge() ** 2
      column.step(dt, { drivingHead: drivingHead(), extraLoss: rack, outletResistance })
      pond.step(dt, { inflow, turbine: column.discharge() })
    },
    /** `grossHead` [m] counts from where the plant measures its headwater: before the rack or behind it. */
    truth(grossHead: number): Record<string, number> {
      const velocityHead = column.velocity() ** 2 / (2 * design.pipe.gravity)
      const gaugeHead = column.outletHead() + elevations.outlet - elevations.gauge - velocityHead
      return {
        rackDifferential: rackLoss,
        grossHead,
        netHead: column.outletHead(),
        headLoss: grossHead - column.outletHead(),
        discharge: column.discharge(),
        hydraulicPower: hydraulicPower(),
        residualFlow: pond.residualFlow(),
        inletPressure: specificWeight * gaugeHead,
      }
    },
    book: (): EnergyBook => ({
      supplied: weightFlow() * drivingHead(),
      used: hydraulicPower(),
      lost: { rack: weightFlow() * rackLoss, pipe: weightFlow() * column.pipeLoss() },
      stored: column.energy(design.density),
    }),
  }
}
