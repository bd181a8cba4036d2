import { useSignalEffect } from '@preact/signals'
import { useRef } from 'preact/hooks'
import { isUnacknowledged } from '../../../server/wire/alarm.ts'
import type { Session } from '../../connect/session.ts'
import { priorityWords } from '../../format/words.ts'
import { address } from '../screens.ts'

/** What is wrong between the instruments and this page, above everything else. */
export function LinkBanner({ session }: { session: Session }) {
  const notice = session.notice.value
  const health = session.hold.value?.health.value
  if (!notice && health?.storing !== false && !health?.alertPath) return null
  return (
    <section class="banners" aria-label="What is wrong">
      {notice && (
        <div class="banner" data-banner={notice.kind}>
          <span class="banner-sign" aria-hidden="true">
            !
          </span>
          <span>{notice.text}</span>
        </div>
      )}
      {health && !health.storing && (
        <div class="banner banner-mild" data-banner="notStoring">
          <span class="banner-sign" aria-hidden="true">
            !
          </span>
          <span>
            Measurements are shown but not stored{health.storingDetail ? `: ${health.storingDetail}` : '.'}
          </span>
        </div>
      )}
      {health?.alertPath && (
        <div class="banner banner-mild" data-banner="alertPath">
          <span class="banner-sign" aria-hidden="true">
            !
          </span>
          <span>
            {health.alertPath} <a href={address({ screen: 'health' })}>Test it</a>
          </span>
        </div>
      )}
    </section>
  )
}

/**
 * Tells people who do not see the screen about new alarms and a lost connection, once each: the words of the
 * banner change every second, so only its kind is spoken.
 */
export function Announcer({ session }: { session: Session }) {
  const line = useRef<HTMLParagraphElement>(null)
  const known = useRef<{ notice: string; alarms: Set<string> | null }>({ notice: '', alarms: null })

  useSignalEffect(() => {
    const notice = session.notice.value
    if ((notice?.kind ?? '') === known.current.notice) return
    known.current.notice = notice?.kind ?? ''
    if (line.current) line.current.textContent = notice ? notice.text : 'Live figures are back.'
  })

  useSignalEffect(() => {
    const alarms = session.hold.value?.alarms.value
    if (!alarms) return
    const open = alarms.filter((alarm) => isUnacknowledged(alarm.state))
    const before = known.current.alarms
    known.current.alarms = new Set(open.map((alarm) => alarm.id))
    const fresh = before && open.filter((alarm) => !before.has(alarm.id))
    if (!fresh?.length || !line.current) return
    line.current.textContent = fresh
      .map((alarm) => `New alarm: ${alarm.name}, ${priorityWords[alarm.priority]} priority.`)
      .join(' ')
  })

  return <p class="spoken" role="status" ref={line} />
}
