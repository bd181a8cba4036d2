import type { FigureRecord, Quantity } from '../quantity.ts'
import { discharge } from './discharge.ts'
import { efficiency } from './efficiency.ts'
import { electrical } from './electrical.ts'
import { flowMeters } from './flowMeters.ts'
import { generator } from './generator.ts'
import { head } from './head.ts'
import { inverter } from './inverter.ts'
import { jets } from './jets.ts'
import { loads } from './loads.ts'
import { machineNumbers } from './machineNumbers.ts'
import { place } from './place.ts'
import { pond } from './pond.ts'
import { pump } from './pump.ts'
import { rack } from './rack.ts'
import { rectifierAndBattery } from './rectifierAndBattery.ts'
import { residual } from './residual.ts'
import { rotor } from './rotor.ts'
import { speed } from './speed.ts'
import { waterHammer } from './waterHammer.ts'
import { waterPower } from './waterPower.ts'
import { weirs } from './weirs.ts'
import { wholePlant } from './wholePlant.ts'

/** From the water to the loads: the order in which people read them. */
const records: readonly FigureRecord[] = [
  ...place,
  ...flowMeters,
  ...weirs,
  ...discharge,
  ...pond,
  ...residual,
  ...rack,
  ...head,
  ...waterHammer,
  ...pump,
  ...waterPower,
  ...jets,
  ...speed,
  ...machineNumbers,
  ...rotor,
  ...electrical,
  ...generator,
  ...efficiency,
  ...rectifierAndBattery,
  ...loads,
  ...inverter,
  ...wholePlant,
]

/** Every figure that can be computed. */
export const quantities: readonly Quantity[] = records.map((record) =>
  'ways' in record ? record : { ...record, ways: [record] },
)
