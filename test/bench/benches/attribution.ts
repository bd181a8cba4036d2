import { misjudged, readRecording, recordPlant } from '../../support/recordedRig.ts'
import { type Bench, type BenchOptions, type Row, shareRow } from '../bench.ts'

/** One instrument of each kind; `npm test` looks at a few seeds of more of them. */
const FAULTY = ['discharge', 'manifold-pressure', 'torque', 'phase-voltage-1', 'phase-current-2'] as const
const SEEDS = 200
/** Stretches of plant noise that the seeds of the instruments are spread over. */
const RECORDINGS = 4
const NAME = 'attribution'

/**
 * How often the agreement names the instrument of the simulated rig that reads 3 % high, and how often it leaves sound
 * ones alone. Instruments and the constants of the plant file err at random within what they state.
 */
export const attribution: Bench = { name: NAME, run }

async function run({ isFloorOnly, share }: BenchOptions): Promise<Row[]> {
  if (isFloorOnly) return []
  const seeds = Math.max(1, Math.round(SEEDS * share))
  const recordings = Array.from({ length: RECORDINGS }, (_, i) =>
    recordPlant('quennerby', { seed: i + 1, settle: 10, seconds: 21 }),
  )
  const suspects = (seed: number, instrument?: string) =>
    readRecording(recordings[seed % RECORDINGS]!, {
      seed,
      known: misjudged(recordings[0]!.plant, seed),
      ...(instrument === undefined ? {} : { fault: { instrument, kind: 'gain' } }),
    })
      .agreement.reply()
      .suspects.map(({ id }) => id)
  const all = Array.from({ length: seeds }, (_, i) => i + 1)
  const rows = FAULTY.map((instrument) => {
    const found = all.map((seed) => suspects(seed, instrument))
    const alone = found.filter((ids) => ids.length === 1 && ids[0] === instrument).length
    const pair = found.filter((ids) => ids.length === 2 && ids.includes(instrument)).length
    return shareRow({
      bench: NAME,
      what: `${instrument} reads 3 % high, ${seeds} seeds`,
      share: (alone + pair) / seeds,
      target: '≥ 95 %',
      remark: `alone ${alone}, one of two that cannot be told apart ${pair}, others ${seeds - alone - pair}`,
    })
  })
  const accused = all.filter((seed) => suspects(seed).length > 0).length
  return [
    ...rows,
    shareRow({
      bench: NAME,
      what: `sound instruments, nobody accused, ${seeds} seeds`,
      share: 1 - accused / seeds,
      target: '≥ 99 %',
    }),
  ]
}
