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
