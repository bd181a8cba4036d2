import type { Verdict } from '../inputs.ts'
import { createRawInput } from '../rawInput.ts'
import type { AlarmKind } from './kind.ts'
import { createLevelTimes, levelsText, readLevels } from './levelTimes.ts'

/**
 * At or above a level for its time, for pairs such as 105 % for 60 s and 110 % for 1 s. The times are those of the
 * measurements, so a burst that comes late is judged as it happened.
 */
export const lasting: AlarmKind = {
  id: 'lasting',
  hasAmount: true,
  lossOf: null,
  isForSafety: false,
  needs: ['figure', 'levels'],
  may: ['deadband'],
  read(place) {
    const levels = readLevels(place)
    const deadband = place.deadband(Math.min(...levels.map((one) => one.limit)))
    const figure = place.figure.id
    return {
      condition: levelsText(place.file.levels!),
      uses: [figure],
      open({ figures, wasHeld }) {
        const input = createRawInput(figure, figures)
        const times = createLevelTimes(levels, deadband, wasHeld)
        const judge = (now: number): Verdict => {
          const { value, at, quality } = input.look(now)
          if (quality === 'bad') return { holds: undefined, value: Number.NaN, at, quality }
          return { holds: !Number.isNaN(value) && times.update(value, at), value, at, quality }
        }
        return {
          watches: figures.isDerived(figure) ? [] : [figure],
          take(look) {
            input.take(look)
            return judge(look.at)
          },
          look: ({ now }) => judge(now),
          isWorse: (a, b) => a > b,
        }
      },
    }
  },
}
