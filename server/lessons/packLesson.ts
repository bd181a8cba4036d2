import { createHash } from 'node:crypto'
import { setImmediate as nextTurn } from 'node:timers/promises'
import { strToU8, type Zippable, zip } from 'fflate'
import { csvLine } from '../trials/pack/csv.ts'
import type { Group, LessonStore, StoredLesson } from './lessonStore.ts'
import { questionView } from './lessonUnderWay.ts'
import type { RecordStore, StoredRecord } from './recordStore.ts'

export interface PackWish {
  stored: StoredLesson
  store: Pick<LessonStore, 'allGroups'>
  records: RecordStore
  /** Left out: every group in a folder of its own. */
  group?: number
}

/**
 * A zip with what a group marked and predicted: records as CSV and JSON, predictions, a sheet that says who, when and
 * how, and checksums in the form that `sha256sum -c` reads. Between groups others get their turn, and the squeezing
 * is done by threads: a pack must not hold up the readings.
 */
export async function packLesson(wish: PackWish): Promise<Uint8Array> {
  const { stored, store, records, group } = wish
  const id = stored.summary.id
  const all = store.allGroups(id)
  const files: Record<string, string> = {}
  for (const one of all.filter(({ number }) => group === undefined || number === group)) {
    const folder = group === undefined ? `group-${one.number}/` : ''
    const rows = records.records(id, one.number)
    files[`${folder}records.csv`] = recordsCsv(rows)
    files[`${folder}records.json`] = recordsJson(stored, one, rows)
    files[`${folder}about.txt`] = aboutText(stored, one, rows)
    await nextTurn()
  }
  files['predictions.csv'] = predictionsCsv(wish)
  const sums = Object.entries(files).map(([name, text]) => `${sha256(text)}  ${name}\n`)
  const texts = Object.entries({ ...files, SHA256SUMS: sums.join('') })
  const zippable: Zippable = Object.fromEntries(texts.map(([name, text]) => [name, strToU8(text)]))
  // One fixed time: packing the same lesson twice gives the same bytes.
  const options = { level: 6 as const, mtime: new Date(stored.summary.openedAt) }
  return new Promise((resolve, reject) =>
    zip(zippable, options, (error, packed) => (error ? reject(error) : resolve(packed))),
  )
}

/** One line a record, SI units; a column where any record of the group holds the figure. */
function recordsCsv(rows: readonly StoredRecord[]): string {
  const units = new Map(
    rows.flatMap(({ record }) => record.figures.map(({ id, unit }): [string, string] => [id, unit])),
  )
  const head = csvLine([
    'record',
    'pressed_utc',
    'stored_utc',
    'shown_utc',
    'shown',
    'setting',
    'steady',
    'steady_why',
    'run',
    'point',
    'remark',
    'struck_out',
    'question',
    'prediction',
    'prediction_u',
    ...[...units].flatMap(([id, unit]) => [`${id} [${unit}]`, `${id} U95 [${unit}]`, `${id} quality`]),
  ])
  const lines = rows.map(({ record, remark, struck }) => {
    const byId = new Map(record.figures.map((figure) => [figure.id, figure]))
    return csvLine([
      record.number,
      iso(record.pressedAt),
      iso(record.storedAt),
      iso(record.shownAt),
      record.shown,
      record.setting,
      record.steady.state,
      record.steady.sentence,
      record.point?.run ?? '',
      record.point?.number ?? '',
      remark,
      struck ?? '',
      record.prediction?.question ?? '',
      record.prediction?.value ?? '',
      record.prediction?.u ?? '',
      ...[...units.keys()].flatMap((id) => {
        const figure = byId.get(id)
        return [figure?.value ?? '', figure?.u95 ?? '', figure?.quality ?? 'hidden']
      }),
    ])
  })
  return [head, ...lines].join('')
}

/** Records are put in as they were stored, so that their checksums hold. */
function recordsJson(
  { summary, plantName }: StoredLesson,
  group: Group,
  rows: readonly StoredRecord[],
): string {
  const records = rows.map(({ text, remark, struck }) => ({
    remark,
    struck,
    record: JSON.parse(text) as unknown,
    sha256: sha256(text),
  }))
  return `${JSON.stringify({ format: 'headrace-lesson-1', lesson: summary, plantName, group, records }, null, 1)}\n`
}

/** Who predicted what; a group gets its own line and, once revealed, how the class did. */
function predictionsCsv({ stored, store, records, group }: PackWish): string {
  const id = stored.summary.id
  const names = new Map(store.allGroups(id).map(({ number, name }) => [number, name]))
  const head = csvLine([
    'question',
    'text',
    'figure',
    'group',
    'prediction_si',
    'own_u_si',
    'truth_si',
    'truth_U95_si',
    'point',
    'class_mean_si',
    'class_median_si',
    'class_predictions',
    'class_within_U95',
  ])
  const lines = records.questions(id).flatMap((question) => {
    const { reveal } = questionView(question, records, id)
    const { value: truth = '', u95 = null, point = null } = reveal?.truth ?? {}
    return records
      .predictions(id, question.number)
      .filter((one) => group === undefined || one.group === group)
      .map((one) =>
        csvLine([
          question.number,
          question.text,
          question.figure,
          names.get(one.group) ?? '',
          one.value,
          one.u ?? '',
          truth,
          u95 ?? '',
          point ? `run ${point.run} point ${point.number}` : '',
          reveal?.mean ?? '',
          reveal?.median ?? '',
          reveal?.predictions.length ?? '',
          reveal?.within ?? '',
        ]),
      )
  })
  return [head, ...lines].join('')
}

function aboutText(
  { summary, plantName, method }: StoredLesson,
  group: Group,
  rows: readonly StoredRecord[],
): string {
  const struck = rows.filter((row) => row.struck !== null)
  return [
    `${summary.title}`,
    `Plant: ${plantName}`,
    `Lesson ${summary.id}, opened by ${summary.openedBy}`,
    `From ${iso(summary.openedAt)} to ${summary.endedAt === null ? '(not ended)' : iso(summary.endedAt)}`,
    `Group ${group.number}: ${group.name}`,
    `Records: ${rows.length}, of them struck out: ${struck.length}`,
    ...struck.map(({ record, struck: why }) => `  Record ${record.number}: ${why}`),
    '',
    'How it was measured',
    ...method.map((line) => `  ${line}`),
    '',
    'Columns',
    '  pressed: when the button was pressed. stored: when the server had it on its disk. shown: moment that the figures are of.',
    '  shown: live, frozen (the instructor had frozen the figures) or replay (a recording).',
    '  quality "hidden": the instructor had hidden the figure, so the record does not hold it.',
    '  Records cannot be changed. Those struck out stay, with the reason.',
    '',
    'Check the files with "sha256sum -c SHA256SUMS".',
    'Monitoring is not protection.',
    '',
  ].join('\n')
}

const iso = (at: number) => new Date(at).toISOString()

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}
