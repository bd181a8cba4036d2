import type { AlarmView } from '../../../server/wire/alarm.ts'
import { clockTime, dayTime } from '../../format/time.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { FigureLink } from '../parts/button.tsx'
import { figureText, QualityMark } from '../parts/figureNumber.tsx'
import { alarmNumber, isDiscrete, limitText } from './alarmText.ts'
import type { PlantProps } from './plantProps.ts'

/** How far it went, and when. */
export function AlarmValue({ alarm, hold, connection, open }: PlantProps & { alarm: AlarmView }) {
  const figure = hold.byId.get(alarm.figure)
  const peak = alarm.peak ?? alarm.value
  const hasPeak = peak !== null && !isDiscrete(alarm, hold)
  return (
    <p class="alarm-value">
      {figure && (
        <FigureLink figure={alarm.figure} open={open}>
          {figure.description.name}
        </FigureLink>
      )}
      {hasPeak && (
        <>
          {' '}
          reached <b>{alarmNumber(alarm, peak, hold)}</b>
          {alarm.peakAt !== null && ` at ${clockTime(alarm.peakAt, hold.view.timeZone)}`},
        </>
      )}{' '}
      {limitText(alarm, hold)}
      {figure && <Now figure={figure} connection={connection} isFirst={!hasPeak} />}
      {alarm.detail && <span class="alarm-detail">; {alarm.detail}</span>}
    </p>
  )
}

/** Of its own: it is drawn anew with every value. */
type NowProps = Pick<PlantProps, 'connection'> & { figure: FigureHold; isFirst: boolean }

function Now({ figure, connection, isFirst }: NowProps) {
  const isOld = connection.notice.value !== null
  const value = figure.value.value
  const { text } = figureText(figure, value)
  return (
    <>
      {isFirst ? ' ' : ', '}
      <span class="nowrap">
        {isOld || value.quality === 'bad' ? 'last' : 'now'} {text} {figure.unit.print}
        <QualityMark value={value} />
      </span>
    </>
  )
}

/** When it came and who has answered it. */
export function AlarmTimes({ alarm, zone }: { alarm: AlarmView; zone: string }) {
  return (
    <p class="muted number dotted">
      {alarm.raisedAt !== null && <span>raised {dayTime(alarm.raisedAt, zone)}</span>}
      {alarm.acknowledgedAt !== null && (
        <span>
          acknowledged {dayTime(alarm.acknowledgedAt, zone)}
          {alarm.acknowledgedBy && ` by ${alarm.acknowledgedBy}`}
        </span>
      )}
    </p>
  )
}
