import type { Trial } from '../trial.ts'
import { efficiencyDischarge } from './efficiencyDischarge.ts'
import { generatorCharacteristic } from './generatorCharacteristic.ts'

/** Every trial, in the order in which a class meets them. */
export const trials: readonly Trial[] = [efficiencyDischarge, generatorCharacteristic]
