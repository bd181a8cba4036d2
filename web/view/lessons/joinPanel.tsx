import type { DeskReply } from '../../../server/wire/lesson.ts'
import type { Answer } from '../../connect/http.ts'
import { deskRequests } from '../../connect/lessonRequests.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Button } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { QrCode } from '../parts/qrCode.tsx'

/** What each part of the desk is given. */
export interface DeskProps {
  desk: DeskReply
  hold: PlantHold
  /** Sends a deed and reads the desk anew; says what the server would not. */
  act: (deed: Promise<Answer<object>>) => Promise<boolean>
}

/** Code, address and QR code; the same goes on the large screen. */
export function JoinPanel({ desk, act }: DeskProps) {
  const id = desk.lesson.id
  return (
    <Panel id="join-code" title="Join" count={seatsText(desk)}>
      <JoinCode desk={desk} />
      <p class="buttons">
        <Button
          isSmall
          action="joining"
          aria-pressed={desk.isClosed}
          onClick={() => act(deskRequests.openJoining(id, desk.isClosed))}
        >
          {desk.isClosed ? 'Open joining' : 'Close joining'}
        </Button>
        <Button isSmall action="new-code" onClick={() => act(deskRequests.renewCode(id))}>
          New code
        </Button>
      </p>
      {desk.isClosed && <p>Joining is closed: who has joined stays, nobody else comes in.</p>}
      <p class="hint">{desk.joinNote}</p>
      {desk.join && desk.join.others.length > 0 && (
        <details class="fold">
          <summary>Other addresses of this server</summary>
          <ul>
            {desk.join.others.map((address) => (
              <li key={address}>{address}</li>
            ))}
          </ul>
        </details>
      )}
    </Panel>
  )
}

function seatsText({ seats, mostSeats }: DeskReply): string {
  return `${seats} of ${mostSeats} phones`
}

export function JoinCode({ desk }: { desk: DeskReply }) {
  return (
    <div class="row">
      {desk.join && <QrCode qr={desk.join.qr} label="QR code of the address for joining" />}
      <div>
        <p class="lesson-code" data-code={desk.code}>
          {desk.code}
        </p>
        {desk.join && <p class="join-address">{desk.join.address.replace(/#.*$/, '#/lesson')}</p>}
      </div>
    </div>
  )
}
