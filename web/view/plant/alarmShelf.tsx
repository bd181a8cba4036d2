import { useSignal } from '@preact/signals'
import type { AlarmView } from '../../../server/wire/alarm.ts'
import type { AlarmRequest, AlarmRequests } from '../../connect/acknowledge.ts'
import { may } from '../../connect/person.ts'
import { Button } from '../parts/button.tsx'
import { Choice } from '../parts/fields.tsx'

const CHOICES = [15, 30, 60, 120, 240, 480, 1440]
const SHORTEST_REASON = 3

interface ShelfProps {
  alarm: AlarmView
  requests: AlarmRequests
}

/** Takes an alarm off the list, for a time or until it is put back. Needs a reason that others can read. */
export function AlarmShelf({ alarm, requests }: ShelfProps) {
  if (alarm.kind === 'flood' || !(may('shelve') || may('withhold'))) return null
  const isOut = alarm.state === 'outOfService'
  return (
    <details class="fold alarm-shelf">
      <summary>{isOut ? 'Put back into service' : 'Shelve or take out of service'}</summary>
      {isOut ? (
        <ShelfForm alarm={alarm} requests={requests} offers={allowed(['putBack'])} />
      ) : (
        <ShelfForm
          alarm={alarm}
          requests={requests}
          offers={allowed(
            alarm.longestShelfMs > 0 && alarm.state !== 'shelved'
              ? ['shelve', 'outOfService']
              : ['outOfService'],
          )}
        />
      )}
    </details>
  )
}

/** What this person may not do is not offered. */
function allowed(requests: AlarmRequest[]): AlarmRequest[] {
  return requests.filter((request) => may(request === 'shelve' ? 'shelve' : 'withhold'))
}

const WORDS: Partial<Record<AlarmRequest, string>> = {
  shelve: 'Shelve',
  outOfService: 'Take out of service',
  putBack: 'Put back',
}

function ShelfForm({ alarm, requests, offers }: ShelfProps & { offers: AlarmRequest[] }) {
  const reason = useSignal('')
  const choices = CHOICES.filter((minutes) => minutes * 60_000 <= alarm.longestShelfMs)
  const minutes = useSignal(choices.find((one) => one >= 60) ?? choices[0] ?? 0)
  const isReady = reason.value.trim().length >= SHORTEST_REASON
  const send = (request: AlarmRequest) => {
    if (!isReady) return
    void requests.send(alarm.id, request, {
      note: reason.value.trim(),
      ...(request === 'shelve' ? { minutes: minutes.value } : {}),
    })
  }
  return (
    <div class="shelf-form">
      {offers.includes('shelve') ? (
        <label>
          For{' '}
          <Choice
            value={minutes.value}
            options={choices.map((one) => ({ id: one, name: one < 60 ? `${one} min` : `${one / 60} h` }))}
            choose={(one) => {
              minutes.value = Number(one)
            }}
          />
        </label>
      ) : (
        alarm.longestShelfMs === 0 && <p class="hint">It cannot be shelved.</p>
      )}
      <label>
        Reason{' '}
        <input
          type="text"
          maxLength={500}
          value={reason.value}
          onInput={(event) => {
            reason.value = event.currentTarget.value
          }}
        />
      </label>
      <div class="buttons">
        {offers.map((request) => (
          <Button key={request} isSmall action={request} disabled={!isReady} onClick={() => send(request)}>
            {WORDS[request]}
          </Button>
        ))}
      </div>
    </div>
  )
}
