import { type Check, isOutside, kiloSlip, NO_DOUBT, rough } from './doubt.ts'
import { watts } from './machine.ts'

/** What hangs at the generator, beside its rating (common practice, no source). */
export const checkLoads: Check = (facts) => {
  const { of, doubt } = facts
  const made = of('generator.ratedPower')
  const beside = (path: string, fits: readonly [number, number]) => {
    const ratio = of(path) / made
    if (!isOutside(ratio, fits)) return NO_DOUBT
    return doubt(path, `an amount beside the generator's ${watts(made)}${kiloSlip(ratio, fits)}`)
  }
  return [
    ...beside('dump.ratedPower', [0.2, 10]),
    ...beside('inverter.ratedPower', [0.05, 20]),
    ...beside('loads.ratedPower', [0.02, 50]),
  ]
}

/** Hours that the generator needs to fill the battery. */
export const checkBattery: Check = ({ of, doubt }) => {
  const energy = of('battery.ratedCharge') * of('battery.ratedVoltage')
  const hours = energy / of('generator.ratedPower') / 3600
  if (!isOutside(hours, [0.02, 500])) return NO_DOUBT
  return doubt(
    'battery.ratedCharge',
    `a charge that goes with the generator: it would fill this battery in ${rough(hours)} h (A.h, V or kW?)`,
  )
}

/** Voltages between phases that plates of three-phase machines bear (IEC 60038, and those of 60 Hz networks). */
const LINE_VOLTAGES = [380, 400, 415, 440, 460, 480, 600, 660, 690]

/** A plate has the voltage between phases, this file that from phase to neutral. Where the current is given, it tells (`checkPlate`). */
export const checkLineVoltage: Check = ({ of, words, doubt, plant }) => {
  const [voltage, phases] = [of('generator.ratedVoltage'), of('generator.phases')]
  if (
    plant.generator?.kind === 'directCurrent' ||
    phases !== 3 ||
    plant.constants.has('generator.ratedCurrent')
  )
    return NO_DOUBT
  if (!LINE_VOLTAGES.some((line) => Math.abs(voltage - line) < 0.5)) return NO_DOUBT
  return doubt(
    'generator.ratedVoltage',
    `the voltage from phase to neutral: ${words('generator.ratedVoltage')} on a plate is mostly that between phases, which is ${Math.round(voltage / Math.sqrt(3))} V here (with ratedCurrent given, this is checked)`,
  )
}

/** Networks have 50 or 60 Hz; a rig may have what it likes. */
export const checkFrequency: Check = ({ of, doubt, plant }) => {
  if (plant.use === 'rig' || plant.generator?.kind === 'directCurrent') return NO_DOUBT
  if (!isOutside(of('generator.ratedFrequency'), [45, 65])) return NO_DOUBT
  return doubt('generator.ratedFrequency', '50 Hz or 60 Hz, as consumers have it')
}
