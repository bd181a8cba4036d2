import type { Verdict } from '../inputs.ts'
import { createRawInput } from '../rawInput.ts'
import { type Witness, witnessesOf } from '../witnesses.ts'
import {
  type AlarmKind,
  AmountFault,
  type Judge,
  type JudgeInputs,
  type KindReading,
  type Moment,
} from './kind.ts'
import { createLevelTimes, type LevelTime, levelsText, readLevels } from './levelTimes.ts'

/**
 * Speed at or above a limit, or above levels for their times, judged on every raw reading and on peak-hold values at
 * once: one sample is enough. A small unit passes 120 % within half a second of losing its load, so nothing may
 * filter or delay it. Frequency and voltage are heard beside the tachometer, and any one of them raises: a tachometer
 * that is silent or stuck must not hide a machine that runs away. It tells people; it cannot protect the machine,
 * which needs its own hard-wired trip.
 */
export const overSpeed: AlarmKind = {
  id: 'overSpeed',
  isOverSpeed: true,
  needs: ['figure'],
  may: ['limit', 'levels', 'deadband'],
  read(place): KindReading {
    const { file, plant, figure } = place
    if (file.onDelay > 0) throw new AmountFault('onDelay', 'no on-delay: over-speed is never delayed')
    if ((file.limit === undefined) === (file.levels === undefined))
      throw new AmountFault('limit', 'either "limit" or "levels", not both')
    const levels = file.levels ? readLevels(place) : [{ limit: place.level('limit'), forMs: 0 }]
    const deadband = place.deadband(levels[0]!.limit)
    const witnesses =
      figure.id === 'speed'
        ? witnessesOf(plant)
        : [{ quantity: figure.id, name: 'its instrument', toSpeed: (value: number) => value }]
    return {
      condition: file.levels ? levelsText(file.levels) : `at or above ${file.limit}`,
      ...(file.levels ? {} : { limit: levels[0]!.limit }),
      uses: [figure.id],
      open: (inputs) => speedJudge({ figure: figure.id, levels, deadband, witnesses }, inputs),
    }
  },
}

interface SpeedRule {
  figure: string
  levels: readonly LevelTime[]
  deadband: number
  witnesses: readonly Witness[]
}

function speedJudge({ figure, levels, deadband, witnesses }: SpeedRule, inputs: JudgeInputs): Judge {
  const { figures } = inputs
  const heard = (witnesses.length > 0 ? witnesses : [ownFigure(figure)]).map((witness) => ({
    witness,
    input: createRawInput(witness.quantity, figures),
    times: createLevelTimes(levels, deadband, inputs.wasHeld),
  }))
  const byQuantity = new Map(heard.map((one) => [one.witness.quantity, one]))
  let highest: (typeof heard)[number] | undefined
  let others: string | undefined

  function take(look: Parameters<NonNullable<Judge['take']>>[0]): Verdict {
    const one = byQuantity.get(look.quantity)!
    one.input.take(look)
    // A peak is over when it is told; what its neighbours say counts as of their own last word.
    return sum(look.at)
  }

  /** Any witness raises; the condition is gone when every one that can be heard says so. */
  function sum(now: number): Verdict {
    const told = heard.map((one) => {
      const look = one.input.look(now)
      const value = one.witness.toSpeed(look.value)
      return { one, value, at: look.at, ...judgeOne(one, value, look) }
    })
    const known = told.filter((each) => each.holds !== undefined)
    highest = known.reduce<(typeof told)[number] | undefined>(
      (best, each) => (best === undefined || each.value > best.value ? each : best),
      undefined,
    )?.one
    others = othersText(told, highest)
    if (known.length === 0) return { holds: undefined, value: Number.NaN, at: now, quality: 'bad' }
    const best = known.find((each) => each.one === highest)!
    const holds = known.some((each) => each.holds)
    return { holds, value: best.value, at: best.at, quality: best.quality }
  }

  /** A reading beyond the range of the instrument may raise, but a bad one never clears. */
  function judgeOne(
    { times }: (typeof heard)[number],
    value: number,
    { quality, at }: { quality: Verdict['quality']; at: number },
  ): { holds: boolean | undefined; quality: Verdict['quality'] } {
    if (Number.isNaN(value)) return { holds: undefined, quality: 'bad' }
    if (quality === 'bad' && !times.isBeyond(value)) return { holds: undefined, quality }
    return { holds: times.update(value, at), quality: quality === 'bad' ? 'uncertain' : quality }
  }

  return {
    watches: heard.map((one) => one.witness.quantity),
    isWorse: (a, b) => a > b,
    take,
    look: ({ now }: Moment) => sum(now),
    detail: () =>
      highest && highest !== heard[0] ? `told by ${highest.witness.name}${others ?? ''}` : undefined,
  }
}

function ownFigure(figure: string): Witness {
  return { quantity: figure, name: 'its formula', toSpeed: (value) => value }
}

/** Why the first witness is not the one that told: it is silent, or it disagrees. */
function othersText(
  told: readonly { one: { witness: Witness }; value: number; holds: boolean | undefined }[],
  highest: { witness: Witness } | undefined,
): string | undefined {
  const first = told[0]
  if (!first || !highest || first.one === highest) return undefined
  if (first.holds === undefined) return `; ${first.one.witness.name} is silent or bad`
  return first.holds ? undefined : `; ${first.one.witness.name} disagrees`
}
