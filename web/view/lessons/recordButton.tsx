import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { SeatReply } from '../../../server/wire/lesson.ts'
import type { Connection } from '../../connect/connection.ts'
import { seatRequests } from '../../connect/lessonRequests.ts'
import { createPressQueue, type Press } from '../../connect/pressQueue.ts'
import { clockTime } from '../../format/time.ts'
import { Button } from '../parts/button.tsx'

/** What each part of a phone's screen is given. */
export interface PhoneProps {
  connection: Connection
  reply: SeatReply
  again: () => void
}

const RETRY_MS = 3000

/** One press, one row. What is not stored yet says so until it is. */
export function RecordButton({ connection, reply, again }: PhoneProps) {
  const said = useSignal('')
  const queue = useMemo(() => {
    const place = `headrace-lesson-${reply.lesson}-${reply.group.number}`
    return createPressQueue({
      load: () => localStorage.getItem(place),
      save: (text) => localStorage.setItem(place, text),
      ask: seatRequests.record,
      onStored(number) {
        said.value = `Stored as record ${number}.`
        again()
      },
    })
  }, [])
  useEffect(() => {
    const send = () => void queue.send()
    send()
    const timer = setInterval(send, RETRY_MS)
    addEventListener('online', send)
    return () => {
      clearInterval(timer)
      removeEventListener('online', send)
    }
  }, [])
  const zone = connection.hold.value?.view.timeZone ?? 'UTC'
  const press = async () => {
    said.value = ''
    const refusal = await queue.press('')
    if (refusal) said.value = refusal
  }
  return (
    <section class="stack" aria-label="Record">
      {reply.state === 'open' && (
        <button type="button" class="press record-button" data-action="record" onClick={() => void press()}>
          ● Record
        </button>
      )}
      <p role="status" class="record-said">
        {said.value}
      </p>
      {queue.waiting.value.length > 0 && (
        <ul class="stack waiting">
          {queue.waiting.value.map((one) => (
            <Waiting
              key={one.key}
              press={one}
              zone={zone}
              latestMs={reply.latestMs}
              dismiss={queue.dismiss}
            />
          ))}
        </ul>
      )}
    </section>
  )
}

interface WaitingProps {
  press: Press
  zone: string
  latestMs: number
  dismiss: (key: string) => void
}

function Waiting({ press: { key, pressedAt, refused }, zone, latestMs, dismiss }: WaitingProps) {
  return (
    <li data-waiting={refused === null ? 'unsent' : 'refused'}>
      <b>{refused === null ? '◌ Not sent yet' : '✕ Not stored'}</b>: pressed at {clockTime(pressedAt, zone)}.{' '}
      {refused ??
        `It is sent when the server answers again, with the figures of that moment, up to ${latestMs / 60_000} minutes later.`}
      {refused !== null && (
        <Button isSmall onClick={() => dismiss(key)}>
          Dismiss
        </Button>
      )}
    </li>
  )
}
