import type { AlarmKind } from './kind.ts'
import { createLevelTimes, levelsText, readLevels } from './levelTimes.ts'
import { watchReadings } from './watchFigure.ts'

/**
 * At or above a level for its time, for pairs such as 105 % for 60 s and 110 % for 1 s. The times are those of the
 * measurements, so a burst that comes late is judged as it happened.
 */
export const lasting: AlarmKind = {
  id: 'lasting',
  hasAmount: true,
  isForSafety: false,
  needs: ['figure', 'levels'],
  may: ['deadband'],
  read(fields) {
    const levels = readLevels(fields)
    const deadband = fields.deadband(Math.min(...levels.map((one) => one.limit)))
    const figure = fields.figure.id
    return {
      condition: levelsText(fields.file.levels!),
      uses: [figure],
      open(inputs) {
        const times = createLevelTimes(levels, deadband, inputs.wasHeld)
        return watchReadings(figure, inputs, {
          holds: times.update,
          since: times.since,
          isWorse: (a, b) => a > b,
        })
      },
    }
  },
}
