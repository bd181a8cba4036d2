import type { AlarmKind } from './kind.ts'
import { watchReadings } from './watchFigure.ts'

/** A switch or contact in the named state. Judged as the packet comes in, so that the order of trips is true. */
export const state: AlarmKind = {
  id: 'state',
  hasAmount: false,
  isForSafety: false,
  needs: ['figure', 'is'],
  may: [],
  read({ file, figure }) {
    const isOn = file.is === 'on'
    return {
      condition: `is ${file.is}`,
      limit: 0.5,
      uses: [figure.id],
      open: (inputs) => watchReadings(figure.id, inputs, { holds: (value) => value >= 0.5 === isOn }),
    }
  },
}
