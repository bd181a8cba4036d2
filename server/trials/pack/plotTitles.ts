import type { PackedRun } from './packedRun.ts'
import { dayText } from './times.ts'

/** Title and subtitle of every picture of a run. */
export function plotTitles({ summary, method }: PackedRun): { title: string; subtitle: string } {
  const parts = [
    method.view.name,
    method.plantName + (method.isSimulated ? ' (simulated)' : ''),
    dayText(summary.startedAt, method.timeZone),
    summary.className,
    summary.group,
    summary.year,
  ]
  return { title: summary.name, subtitle: parts.filter((part) => part !== '').join(' · ') }
}
