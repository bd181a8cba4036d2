import type { Plant } from '../plant/plant.ts'

/** An instrument that tells the speed of the shaft, each independent of the others. */
export interface Witness {
  quantity: string
  /** Word for people: "the tachometer". */
  name: string
  /** Generator speed [rad/s] that its value stands for. */
  toSpeed(value: number): number
}

/**
 * Everything at a plant that tells the generator speed from a raw reading:
 * the tachometers, n and, on the other side of a drive, n_t·r; on a machine without slip the frequency, ω = 2π·f/p; on a permanent magnet machine the voltage,
 * ω = ω_r·U/U_0. The voltage under load is below that without, so it can only tell too low a speed, never too high.
 *
 * Limits: frequency only for synchronous and permanent magnet machines; voltage only where the plant file gives the
 * open-circuit voltage at rated speed.
 * Source: f = n·p/60, E ∝ n at constant flux.
 */
export function witnessesOf(plant: Plant): Witness[] {
  const { generator, turbine } = plant
  const found = (quantity: string) => plant.instruments.some((one) => one.quantity === quantity)
  const ratio = turbine?.driveRatio ?? 1
  const witnesses: Witness[] = [
    { quantity: 'speed', name: 'the tachometer', toSpeed: (value) => value },
    { quantity: 'turbineSpeed', name: 'the tachometer of the turbine', toSpeed: (value) => value * ratio },
  ]
  const pairs = generator?.polePairs
  if (pairs !== undefined && (generator?.kind === 'synchronous' || generator?.kind === 'permanentMagnet'))
    witnesses.push({
      quantity: 'frequency',
      name: 'the frequency',
      toSpeed: (value) => (2 * Math.PI * value) / pairs,
    })
  const { voltageConstant } = generator ?? {}
  if (generator?.kind === 'permanentMagnet' && voltageConstant !== undefined)
    for (const quantity of phasesOf(plant))
      witnesses.push({
        quantity,
        name: 'the voltage',
        toSpeed: (value) => value / voltageConstant,
      })
  return witnesses.filter((one) => found(one.quantity))
}

function phasesOf(plant: Plant): string[] {
  return plant.instruments
    .map((one) => one.quantity)
    .filter((quantity) => quantity.split('.')[0] === 'phaseVoltage')
}
