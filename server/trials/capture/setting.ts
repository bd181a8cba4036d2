import type { LivePlant } from '../../livePlant.ts'
import { isSwitch, settingText } from '../../wire/setting.ts'

/** Tells what the switches of a plant are set to, e.g. "jets 1, 2 · loads 2". */
export function createSetting({ plan, evaluator }: LivePlant): () => string {
  const switches = plan.nodes.filter(({ description }) => isSwitch(description.id))
  return () =>
    settingText(
      switches.map(({ index, description: { id } }) => ({
        id,
        value: evaluator.value(index),
      })),
    )
}
