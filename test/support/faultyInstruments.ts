import { systemClock } from '../../server/clock.ts'
import { planFigures } from '../../server/derive/plan.ts'
import { createPlantFigures } from '../../server/derive/plantFigures.ts'
import { createIngest } from '../../server/ingest/ingest.ts'
import type { Instrument, Plant } from '../../server/plant/plant.ts'
import type { AgreementReply } from '../../server/wire/agreement.ts'
import { fromSi } from '../../server/wire/units.ts'
import { createSchedule } from '../../simulator/publish/schedule.ts'
import { createRandom, normal, type Random } from '../../simulator/random.ts'
import type { Sensor } from '../../simulator/sensors/sensor.ts'
import { START } from './manualClock.ts'
import { memoryBroker } from './memoryBroker.ts'
import type { OperatedPlant } from './operatedPlant.ts'

/**
 * Instruments that err otherwise than the server's model of them: limits are kept, but errors sit nearer to them
 * (arcsine), bend over the range, drift and lag behind by hysteresis. The simulator's own sensors
 * (simulator/sensors/sensor.ts) are made after the server's model and could only show that the two agree.
 */
export interface InstrumentFault {
  /** gain: 5 % high · zero: 5 % of the range high · stuck: what it read at the point before · swapped: with the other. */
  kind: 'gain' | 'zero' | 'stuck' | 'swapped'
  instrument: string
  /** Of `swapped`. */
  other?: string
  /** Another factor, or another shift in the unit of the instrument. */
  by?: number
}

const GAIN = 1.05
const ZERO = 0.05
const NOISE_SHARE = 0.05

interface Look {
  operated: OperatedPlant
  /** Number of the operating point. */
  point: number
  /** The plant as its file has it: constants may be wrong. */
  known: Plant
  /** Undefined: perfect instruments. */
  seed: number | undefined
  fault?: InstrumentFault
  /** A second one. */
  also?: InstrumentFault
}

/** What the agreement says after 22 s at one operating point. */
export function lookAt({ operated, point, known, seed, ...wrong }: Look): AgreementReply {
  const { truths } = operated.points[point]!
  const before = operated.points.at(point - 1)!.truths.at(-1)!
  const sound = known.instruments.map((one) => soundOne(one, seed, known.id))
  const figures = createPlantFigures(planFigures(known))
  figures.evaluator.setConnected(true)
  const broker = memoryBroker()
  let now = START
  const clock = { ...systemClock, now: () => now, mono: () => now }
  createIngest({ plants: [known], broker, clock, onReading: figures.evaluator.take })
  const schedule = createSchedule(sound.map((one) => asSensor(one)))
  for (const truth of truths) {
    now += 1000
    for (const { topic, payload } of schedule.due(now, (quantity) => ({ value: read(quantity, truth) })))
      broker.deliver({ topic, payload, receivedAt: now })
    figures.evaluate(now)
  }
  return figures.agreement.reply()

  /** What is sent in place of a quantity, in the unit of its instrument. */
  function read(quantity: string, truth: ReadonlyMap<string, number>): number {
    const one = sound.find(({ instrument }) => instrument.quantity === quantity)!
    const { id, range } = one.instrument
    const fault = [wrong.fault, wrong.also].find((each) => each?.instrument === id || each?.other === id)
    if (!fault) return one.read(truth.get(quantity)!)
    if (fault.kind === 'gain') return one.read(truth.get(quantity)!) * (fault.by ?? GAIN)
    if (fault.kind === 'zero')
      return one.read(truth.get(quantity)!) + (fault.by ?? ZERO * (range![1] - range![0]))
    if (fault.kind === 'stuck') return one.read(before.get(quantity)!)
    const otherId = id === fault.instrument ? fault.other : fault.instrument
    const other = sound.find(({ instrument }) => instrument.id === otherId)!
    return other.read(truth.get(other.instrument.quantity)!)
  }
}

interface Sound {
  instrument: Instrument
  /** SI → the unit of the instrument, with its errors. */
  read(si: number): number
}

function soundOne(instrument: Instrument, seed: number | undefined, plant: string): Sound {
  const sound = (si: number) => fromSi(si, instrument.unit)
  if (seed === undefined || instrument.role?.discrete) return { instrument, read: sound }
  const random = createRandom(seed, `${plant}/${instrument.id}/foreign`)
  const { calibration, reading = 0, span = 0, absolute = 0, resolution = 0 } = instrument.accuracy ?? {}
  const shared = calibration === undefined ? random : createRandom(seed, `${plant}/${calibration}/foreign`)
  const [low, high] = instrument.range ?? [0, 0]
  const width = high - low
  const shape = shapeOf(shared)
  return {
    instrument,
    read(si) {
      const value = sound(si)
      const limit = Math.abs(value) * reading + span * width + absolute
      const place = width > 0 ? (value - low) / width : 0.5
      const wrong = value + limit * (shape(place) + NOISE_SHARE * normal(random))
      return resolution > 0 ? Math.round(wrong / resolution) * resolution : wrong
    },
  }
}

/** Error as a share of the limits over the place in the range: a bias, a bend and a lag that together keep within them. */
function shapeOf(random: Random): (place: number) => number {
  const bias = Math.cos(2 * Math.PI * random())
  const [bend, phase, lag] = [0.3 * random(), random(), 0.1 * (random() < 0.5 ? -1 : 1)]
  return (place) => {
    const drawn = bias + bend * Math.sin(2 * Math.PI * (place + phase)) + lag
    return Math.max(-1, Math.min(1, drawn))
  }
}

/** What is given to it is what it sends. */
function asSensor({ instrument }: Sound): Sensor {
  return { instrument, setFault: () => {}, sample: (sent) => sent }
}
