import type { Ask } from '../channel/questions.ts'
import type { Verdict } from '../derive/verdict.ts'
import type { AgreementReply } from '../wire/agreement.ts'
import type { ShownPlant } from './shownPlant.ts'

/** Looks this far apart [ms] are made: to weigh every cause takes a while, and what is compared are means of 20 s. */
export const LOOK_MS = 5000
/** Looks in a row that have to say the same before it is told, and agree before it is taken back. */
const LOOKS_TO_ACCUSE = 2
const LOOKS_TO_ACQUIT = 4

interface Watched {
  /** Who is suspected now, and how often in a row. */
  key: string
  looks: number
  /** What was told last; "" while nobody is suspected. */
  told: string
}

interface VerdictWatchParts {
  plants: () => ReadonlyMap<string, Pick<ShownPlant, 'agreement' | 'verdict'>>
  ask: Ask
}

/**
 * Tells the watch which instruments do not fit the others, so that their figures, alarms and messages say so. It is worked
 * out here, for it may take a tenth of a second, and over-speed has to be heard meanwhile. While nothing can be
 * compared, e.g. at standstill, what was said last stands.
 */
export function createVerdictWatch({ plants, ask }: VerdictWatchParts): { look(now: number): void } {
  const watched = new Map<string, Watched>()

  function lookAt(
    plant: string,
    reply: AgreementReply,
    { verdict, now }: { verdict: Verdict | undefined; now: number },
  ): void {
    if (reply.state === 'notJudged') return
    const accused = accusedIn(reply)
    const key = accused.join()
    const before = watched.get(plant) ?? { key: '', looks: 0, told: verdict?.instruments.join() ?? '' }
    const looks = before.key === key ? before.looks + 1 : 1
    const isSure = looks >= (key === '' ? LOOKS_TO_ACQUIT : LOOKS_TO_ACCUSE)
    watched.set(plant, { key, looks, told: isSure ? key : before.told })
    if (!isSure || key === before.told) return
    const next = key === '' ? null : { instruments: accused, sentence: reply.sentence, since: now }
    void ask('verdict', { plant, verdict: next })
  }

  return {
    look(now) {
      for (const [id, { agreement, verdict }] of plants())
        lookAt(id, agreement.reply(), { verdict: verdict(), now })
    },
  }
}

/** Ids of instruments, in one order whoever is likeliest; what a relation takes for granted is none. */
function accusedIn({ suspects }: AgreementReply): string[] {
  const ids = suspects.flatMap(({ kind, id }) => (kind === 'relation' ? [] : id.split(', ')))
  return [...new Set(ids)].sort()
}
