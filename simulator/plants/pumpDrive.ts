/** Frequency converter of the pump: turns at a fixed speed or looks for the speed that holds a head. */
export interface PumpDrive {
  /** Share of full speed. */
  speed(): number
  step(dt: number, order: DriveOrder): void
}

export type DriveOrder =
  | { kind: 'stop' }
  | { kind: 'fixedSpeed'; speed: number }
  | { kind: 'holdHead'; setPoint: number; head: number }

/** The converter allows 10 % above nominal frequency. */
const FASTEST = 1.1
const RAMP = 0.2
const COAST = 0.6
/** Speed share per second and metre of head that is missing. */
const INTEGRAL_GAIN = 0.04

export function createPumpDrive(initial: number): PumpDrive {
  let speed = initial
  const approach = (target: number, step: number) => {
    speed += Math.min(Math.max(target - speed, -step), step)
  }
  return {
    speed: () => speed,
    step(dt, order) {
      if (order.kind === 'stop') return approach(0, COAST * dt)
      if (order.kind === 'fixedSpeed') return approach(order.speed, RAMP * dt)
      const wanted = speed + INTEGRAL_GAIN * (order.setPoint - order.head) * dt
      approach(Math.min(FASTEST, Math.max(0, wanted)), RAMP * dt)
    },
  }
}
