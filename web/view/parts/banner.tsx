import { useSignalEffect } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useRef } from 'preact/hooks'
import { isUnacknowledged } from '../../../server/wire/alarm.ts'
import type { Connection } from '../../connect/connection.ts'
import { priorityWords } from '../../format/words.ts'
import { address } from '../screens.ts'
import { Sign } from './panel.tsx'

/** What is wrong between the instruments and this page, above everything else. */
export function LinkBanner({ connection }: { connection: Connection }) {
  const notice = connection.notice.value
  const health = connection.hold.value?.health.value
  if (!notice && health?.storing !== false && !health?.alertPath) return null
  return (
    <section class="banners" aria-label="What is wrong">
      {notice && <Banner kind={notice.kind}>{notice.text}</Banner>}
      {health && !health.storing && (
        <Banner kind="notStoring">
          Measurements are shown but not stored{health.storingDetail ? `: ${health.storingDetail}` : '.'}
        </Banner>
      )}
      {health?.alertPath && (
        <Banner kind="alertPath">
          {health.alertPath} <a href={address({ screen: 'health' })}>Test it</a>
        </Banner>
      )}
    </section>
  )
}

export function Banner({ kind, children }: { kind: string; children: ComponentChildren }) {
  return (
    <div class="banner" data-banner={kind}>
      <Sign />
      <span>{children}</span>
    </div>
  )
}

/**
 * Tells people who do not see the screen about new alarms and a lost connection, once each: the words of the
 * banner change every second, so only its kind is spoken.
 */
export function Announcer({ connection }: { connection: Connection }) {
  const line = useRef<HTMLParagraphElement>(null)
  const known = useRef<{ notice: string; alarms: Set<string> | null }>({ notice: '', alarms: null })

  useSignalEffect(() => {
    const notice = connection.notice.value
    if ((notice?.kind ?? '') === known.current.notice) return
    known.current.notice = notice?.kind ?? ''
    if (line.current) line.current.textContent = notice ? notice.text : 'Live figures are back.'
  })

  useSignalEffect(() => {
    const alarms = connection.hold.value?.alarms.value
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
