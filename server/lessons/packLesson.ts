import { createHash } from 'node:crypto'
import { setImmediate as nextTurn } from 'node:timers/promises'
import { strToU8, type Zippable, zip } from 'fflate'
import { type Columns, csvTable, joinColumns, utc } from '../csv.ts'
import { figureOf } from '../wire/amounts.ts'
import type { Group, LessonStore, StoredLesson } from './lessonStore.ts'
import { questionsOf } from './predictions.ts'
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
  const figures = [...units].map(
    ([id, unit]): Columns<StoredRecord> => ({
      [`${id} [${unit}]`]: ({ record }) => figureOf(record, id)?.value,
      [`${id} U95 [${unit}]`]: ({ record }) => figureOf(record, id)?.u95,
      [`${id} quality`]: ({ record }) => figureOf(record, id)?.quality ?? 'hidden',
    }),
  )
  return csvTable(rows, {
    record: ({ record }) => record.number,
    pressed_utc: ({ record }) => utc(record.pressedAt),
    stored_utc: ({ record }) => utc(record.storedAt),
    shown_utc: ({ record }) => utc(record.shownAt),
    shown: ({ record }) => record.shown,
    setting: ({ record }) => record.setting,
    steady: ({ record }) => record.steady.state,
    steady_why: ({ record }) => record.steady.sentence,
    run: ({ record }) => record.point?.run,
    point: ({ record }) => record.point?.number,
    remark: (one) => one.remark,
    struck_out: (one) => one.struck,
    question: ({ record }) => record.prediction?.question,
    prediction: ({ record }) => record.prediction?.value,
    prediction_u: ({ record }) => record.prediction?.u,
    ...joinColumns(figures),
  })
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
  const lines = questionsOf(records, id).flatMap(({ reveal, ...question }) => {
    return records
      .predictions(id, question.number)
      .filter((one) => group === undefined || one.group === group)
      .map((one) => ({ ...one, asked: question, reveal }))
  })
  return csvTable(lines, {
    question: ({ asked }) => asked.number,
    text: ({ asked }) => asked.text,
    figure: ({ asked }) => asked.figure,
    group: (one) => names.get(one.group),
    prediction_si: (one) => one.value,
    own_u_si: (one) => one.u,
    truth_si: ({ reveal }) => reveal?.truth?.value,
    truth_U95_si: ({ reveal }) => reveal?.truth?.u95,
    point: ({ reveal }) => reveal?.truth?.point && pointText(reveal.truth.point),
    class_mean_si: ({ reveal }) => reveal?.mean,
    class_median_si: ({ reveal }) => reveal?.median,
    class_predictions: ({ reveal }) => reveal?.predictions.length,
    class_within_U95: ({ reveal }) => reveal?.within,
  })
}

function pointText({ run, number }: { run: number; number: number }): string {
  return `run ${run} point ${number}`
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
    `From ${utc(summary.openedAt)} to ${summary.endedAt === null ? '(not ended)' : utc(summary.endedAt)}`,
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

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}
