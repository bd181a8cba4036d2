import type { EnergyBook, Setting } from './model.ts'
import { createOutlet, type OutletDesign } from './outlet.ts'
import { createServo } from './parts.ts'
import { createPond, type PondDesign } from './pond.ts'
import type { Jet } from './runner.ts'
import { createSump, type SumpDesign } from './sump.ts'
import { createThrottle, type ThrottleDesign } from './throttle.ts'
import { createWaterColumn, type PipeDesign } from './waterColumn.ts'

export interface WaterDesign {
  /** [kg/m³] */
  density: number
  supply: PondDesign | SumpDesign
  pipe: PipeDesign
  /** Valve between pipe and outlet. */
  throttle: ThrottleDesign | undefined
  /** Discharge that it begins with [m³/s]. */
  discharge: number
  outlet: OutletDesign
  /** Bore of the pipe at the inlet gauge, and the gauge over where the head ends [m]. */
  tapping: { bore: number; height: number }
  /** Turns the jets away; the rates are shares of its way per second. */
  deflector: { rate: number; returnRate: number } | undefined
}

export interface WaterOrders {
  settings: Readonly<Record<string, Setting>>
  /** The over-speed switch, a person or the mains relay stops the machine. */
  isStopped: boolean
  /** The deflector is wanted in the jets. */
  isDeflected: boolean
  /** Highest opening that is allowed now; a pump that stops leaves all as it is. */
  most: number
  /** Speed over the design speed at rated head. */
  speedShare: number
}

/** From the pond or the pump to the runner. */
export function createWater(design: WaterDesign, random: (() => number) | undefined) {
  const specificWeight = design.density * design.pipe.gravity
  const tappingArea = (Math.PI / 4) * design.tapping.bore ** 2
  const column = createWaterColumn(design.pipe, design.discharge)
  const supply =
    design.supply.kind === 'pond' ? createPond(design.supply, random) : createSump(design.supply, random)
  const throttle = design.throttle && createThrottle(design.throttle, design.pipe)
  const outlet = createOutlet(design.outlet)
  const deflector = createServo(0)
  let orders: WaterOrders | undefined

  const weightFlow = () => specificWeight * column.discharge()
  const hydraulicPower = () => weightFlow() * column.outletHead()
  const throttleLoss = () => (throttle ? throttle.resistance() * column.discharge() ** 2 : 0)
  const draw = () => ({
    settings: orders?.settings ?? {},
    isStopped: orders?.isStopped ?? false,
    discharge: column.discharge(),
    netHead: column.outletHead(),
  })

  return {
    settings: { ...supply.settings, ...outlet.settings, ...(throttle ? { throttle: 1 } : {}) },
    hydraulicPower,
    waterTemperature: supply.waterTemperature,
    jet: (): Jet => ({
      hydraulicPower: hydraulicPower() * (1 - deflector.position()),
      netHead: column.outletHead(),
      efficiency: outlet.efficiency(column.discharge()),
    }),
    step(dt: number, next: WaterOrders): void {
      orders = next
      const headShare = Math.max(1e-3, column.outletHead() / design.outlet.head)
      const most = design.supply.kind === 'sump' && next.isStopped ? 1 : next.most
      outlet.step(dt, {
        settings: next.settings,
        most,
        reducedSpeed: next.speedShare / Math.sqrt(headShare),
      })
      const { rate, returnRate } = design.deflector ?? { rate: 0, returnRate: 0 }
      deflector.step(dt, Number(next.isDeflected), next.isDeflected ? rate : returnRate)
      throttle?.step(dt, { opening: Number(next.settings['throttle']), isShut: next.most === 0 })
      supply.step(dt, draw())
      column.step(dt, {
        drivingHead: supply.drivingHead(),
        extraLoss: supply.loss() + (throttle?.resistance() ?? 0),
        outletResistance: outlet.resistance(),
      })
    },
    truth(): Record<string, number> {
      const velocityHead = column.velocity() ** 2 / (2 * design.pipe.gravity)
      const tappingVelocity = column.discharge() / tappingArea
      const gaugeHead =
        column.outletHead() - design.tapping.height - tappingVelocity ** 2 / (2 * design.pipe.gravity)
      return {
        ...supply.truth({ ...draw(), velocityHead }),
        discharge: column.discharge(),
        netHead: column.outletHead(),
        hydraulicPower: hydraulicPower(),
        inletPressure: specificWeight * gaugeHead,
        waterTemperature: supply.waterTemperature(),
        ...outlet.truth(),
        ...(throttle ? { throttleOpening: throttle.opening() } : {}),
        ...(design.deflector ? { deflector: Number(deflector.position() > 0.5) } : {}),
      }
    },
    book(): EnergyBook {
      const { supplied, lost } = supply.book(column.discharge())
      return {
        supplied,
        used: hydraulicPower(),
        lost: {
          ...lost,
          pipe: weightFlow() * column.pipeLoss(),
          throttle: column.discharge() === 0 ? 0 : weightFlow() * throttleLoss(),
        },
        stored: column.energy(design.density),
      }
    },
  }
}
