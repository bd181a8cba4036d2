import type { AlarmKind, ConditionWatcher, WatcherInputs } from './kind.ts'

/** Which side of the limit is the bad one. */
interface Side {
  id: string
  /** Words between figure and limit. */
  relation: string
  isBeyond: (value: number, limit: number) => boolean
  /** +1: worse when higher. */
  sign: 1 | -1
}

/** Kinds that hold a figure against one limit: present at or beyond it, gone again a deadband inside. */
export function levelKind({ id, relation, isBeyond, sign }: Side): AlarmKind {
  return {
    id,
    hasAmount: true,
    lossOf: null,
    isForSafety: false,
    needs: ['figure', 'limit'],
    may: ['deadband'],
    read(place) {
      const limit = place.level('limit')
      const deadband = place.deadband(limit)
      const figure = place.figure.id
      return {
        condition: `${relation} ${place.file.limit}`,
        limit,
        uses: [figure],
        open: (inputs) =>
          watchFigure(figure, inputs, {
            holds: (value, wasHeld) => isBeyond(value, wasHeld ? limit - sign * deadband : limit),
            isWorse: (a, b) => sign * (a - b) > 0,
          }),
      }
    },
  }
}

interface Rule {
  /** Never called with NaN. */
  holds(value: number, wasHeld: boolean): boolean
  isWorse: ConditionWatcher['isWorse']
}

/** Judges a figure on every tick. A figure that is left blank by design has nothing to judge: no condition. */
function watchFigure(
  figure: string,
  { figures, wasHeld: heldBefore }: WatcherInputs,
  rule: Rule,
): ConditionWatcher {
  let wasHeld = heldBefore
  return {
    watches: [],
    isWorse: rule.isWorse,
    look({ now }) {
      const quality = figures.quality(figure)
      if (quality === 'bad') return { holds: undefined, value: Number.NaN, at: now, quality }
      const value = figures.value(figure)
      wasHeld = !Number.isNaN(value) && rule.holds(value, wasHeld)
      return { holds: wasHeld, value, at: figures.at(figure) || now, quality }
    },
  }
}
