import type { Verdict } from '../inputs.ts'
import { createRawInput } from '../rawInput.ts'
import type { AlarmKind } from './kind.ts'

/** A switch or contact in the named state. Judged as the packet comes in, so that the order of trips is true. */
export const state: AlarmKind = {
  id: 'state',
  hasAmount: false,
  lossOf: null,
  isForSafety: false,
  needs: ['figure', 'is'],
  may: [],
  read({ file, figure }) {
    const isOn = file.is === 'on'
    return {
      condition: `is ${file.is}`,
      limit: 0.5,
      uses: [figure.id],
      open({ figures }) {
        const input = createRawInput(figure.id, figures)
        const judge = (now: number): Verdict => {
          const { value, at, quality } = input.look(now)
          if (quality === 'bad') return { holds: undefined, value: Number.NaN, at, quality }
          return { holds: !Number.isNaN(value) && value >= 0.5 === isOn, value, at, quality }
        }
        return {
          watches: figures.isDerived(figure.id) ? [] : [figure.id],
          take(look) {
            input.take(look)
            return judge(look.at)
          },
          look: ({ now }) => judge(now),
          isWorse: () => false,
        }
      },
    }
  },
}
