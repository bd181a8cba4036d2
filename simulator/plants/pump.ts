import { createServo } from './parts.ts'

export interface PumpDesign {
  /** Head at full speed and no flow [m]. */
  shutOffHead: number
  /** Fall of the head with discharge squared [s²/m⁵]. */
  slope: number
  /** Discharge at best efficiency and full speed [m³/s]. */
  bestDischarge: number
  bestEfficiency: number
  motorEfficiency: number
  driveEfficiency: number
}

/** Affinity laws: head with the speed squared, the whole curve shrinking with speed. */
export function pumpShutOffHead(pump: PumpDesign, speed: number): number {
  return pump.shutOffHead * speed ** 2
}

export function pumpHead(pump: PumpDesign, speed: number, discharge: number): number {
  return pumpShutOffHead(pump, speed) - pump.slope * discharge ** 2
}

/**
 * Shaft power ρgQH/η [W] with η = η_best·(2q − q²), q = Q/(speed · Q_best). Written so that it stays finite
 * at no flow, where the pump only heats its water.
 */
export function pumpShaftPower(
  pump: PumpDesign,
  speed: number,
  { discharge, specificWeight }: { discharge: number; specificWeight: number },
): number {
  if (speed <= 0) return 0
  const q = discharge / (speed * pump.bestDischarge)
  const head = Math.max(0, pumpHead(pump, speed, discharge))
  return (specificWeight * head * speed * pump.bestDischarge) / (pump.bestEfficiency * (2 - q))
}

export function pumpInputPower(pump: PumpDesign, shaftPower: number): number {
  return shaftPower / (pump.motorEfficiency * pump.driveEfficiency)
}

export type DriveOrder =
  | { kind: 'stop' }
  | { kind: 'fixedSpeed'; speed: number }
  | { kind: 'holdHead'; setPoint: number; head: number }

/** The converter allows 10 % above nominal frequency. */
const FASTEST = 1.1
const RAMP = 0.2
const COAST = 0.6
/** Speed share per second and share of the head that is missing. */
const INTEGRAL_GAIN = 0.96

/** Frequency converter of the pump: turns at a fixed speed or looks for the speed that holds a head [m]. */
export function createPumpDrive(initial: number, ratedHead: number) {
  const speed = createServo(initial)
  return {
    /** Share of full speed. */
    speed: speed.position,
    step(dt: number, order: DriveOrder): void {
      if (order.kind === 'stop') speed.step(dt, 0, COAST)
      else if (order.kind === 'fixedSpeed') speed.step(dt, order.speed, RAMP)
      else {
        const wanted = speed.position() + (INTEGRAL_GAIN / ratedHead) * (order.setPoint - order.head) * dt
        speed.step(dt, Math.min(FASTEST, Math.max(0, wanted)), RAMP)
      }
    },
  }
}
