import type { NotesVersion } from '../../wire/trial.ts'
import { checkSection } from './findingSections.ts'
import type { PackedRun, PackParts, Section } from './packedRun.ts'

/** Stands in every sheet and record. */
export const CAUTION =
  'Monitoring is not protection. Limits and suggestions are examples; whoever answers for the plant decides.'

/** What was done, with what, and by which rules, as plain text: the part of a report that the program can write. */
export function methodSheet(run: PackedRun, parts: PackParts): string {
  const { summary, method, checks, plantText } = run
  const { view } = method
  const sections: Section[] = [
    ['Aim', [view.aim]],
    ['Steps', view.method],
    ...parts.how,
    [
      'Instruments',
      method.instruments.map((one) => `${one.id} (${one.quantity}, ${one.unit}): ${one.accuracy}`),
    ],
    ...parts.result,
    checkSection(checks),
    ...parts.taken,
    ['Notes', summary.notes === '' ? [] : [summary.notes]],
    ['Notes before', earlierNotes(run.versions)],
    [
      'Files',
      [
        'record.html: the record for the printer, with room for names and signature. It is no finished report.',
        ...parts.files,
        'instruments.csv: what measured.',
        plantText === null
          ? 'The plant file is not here: the plant came from no file.'
          : `plant-file.yaml: the plant file (${method.plantFile?.name}) as it was when the run began.`,
        'run.json: everything, for programs. CSV: RFC 4180, UTF-8, comma, decimal point.',
        'SHA256SUMS: checksums of these files; check with "sha256sum -c SHA256SUMS".',
      ],
    ],
    ['Caution', [CAUTION]],
  ]
  const body = sections
    .filter(([, lines]) => lines.length > 0)
    .map(([title, lines]) => `${title}\n${lines.map((line) => `  ${line}`).join('\n')}`)
  return `${[headOf(run), ...body].join('\n\n')}\n`
}

/** What stood in the notes before, and who had written it. */
function earlierNotes(versions: readonly NotesVersion[]): string[] {
  return versions
    .slice(0, -1)
    .filter(({ notes }) => notes !== '')
    .map(({ at, by, notes }) => `${new Date(at).toISOString()}, ${by}: ${notes}`)
}

function headOf({ summary, method }: PackedRun): string {
  const { startedAt, finishedAt } = summary
  const end = finishedAt === null ? '(not finished)' : new Date(finishedAt).toISOString()
  return [
    method.view.name,
    `Plant: ${method.plantName}${method.isSimulated ? ' (simulated: computed, not measured at a machine)' : ''}`,
    `Run ${summary.id}: ${summary.name}`,
    `Class ${summary.className || '–'}, group ${summary.group || '–'}, year ${summary.year || '–'}, run by ${summary.by}`,
    `From ${new Date(startedAt).toISOString()} to ${end}`,
    `Headrace ${method.version}`,
  ].join('\n')
}
