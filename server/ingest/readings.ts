import { toSi } from '../wire/units.ts'
import type { Message } from './broker/broker.ts'
import type { Fault, Sample } from './formats/format.ts'
import type { KeptWatch } from './keptWatch.ts'
import type { Judgement, QualityCounters } from './quality.ts'
import type { Reading } from './reading.ts'
import { scaleValue } from './scale.ts'
import type { TopicRecord } from './topics.ts'

export interface SampleCounters extends QualityCounters {
  readings: number
}

export interface SampleSinks {
  counters: SampleCounters
  kept: KeptWatch
  onReading: (reading: Reading) => void
  onFault: (record: TopicRecord, fault: Fault, message: Message) => void
}

interface Taken {
  record: TopicRecord
  sample: Sample
  message: Message
}

/** Scales and judges one sample and hands the reading on. */
export function takeSample(taken: Taken, sinks: SampleSinks): void {
  const { record, sample, message } = taken
  const { instrument } = record
  const scaled = scaleValue(instrument, sample.value)
  const value = toSi(scaled.value, instrument.unit)
  if (!Number.isFinite(value)) {
    const expected = 'a number that can be scaled to the unit of the instrument'
    sinks.onFault(record, { found: `the value is ${sample.value}`, expected }, message)
    return
  }
  const judged = record.judge({
    scaled,
    at: sample.at,
    doubt: sample.doubt,
    receivedAt: message.receivedAt,
    retained: message.retained,
    mayBeKept: sinks.kept.mayBeKept(message),
    sender: message.sender,
  })
  if (!judged) return
  if (judged.late) sinks.kept.noteLate(message)
  if (judged.late === 'tooOld') sinks.onFault(record, tooOld(judged), message)
  sinks.counters.readings++
  sinks.onReading(readingOf(taken, judged, value))
}

/** @param value SI. */
function readingOf({ record, sample, message }: Taken, judged: Judgement, value: number): Reading {
  const { plant, instrument } = record
  const reading: Reading = {
    plant,
    instrument: instrument.id,
    quantity: instrument.quantity,
    value,
    measuredAt: judged.measuredAt,
    receivedAt: message.receivedAt,
    quality: judged.quality,
    reasons: judged.reasons,
  }
  if (judged.ageUnknown) reading.ageUnknown = true
  if (judged.late) reading.late = true
  if (judged.overdue) reading.overdue = true
  if (judged.doubt) reading.doubt = judged.doubt
  if (sample.peak !== undefined) {
    const peak = toSi(scaleValue(instrument, sample.peak).value, instrument.unit)
    if (Number.isFinite(peak)) reading.peak = peak
  }
  return reading
}

function tooOld({ measuredAt }: Judgement): Fault {
  return {
    found: `the time of measurement is ${new Date(measuredAt).toISOString()}`,
    expected: 'one of the last 24 hours',
    kept: 'The value was recorded at that time and is not taken for the present one.',
  }
}
