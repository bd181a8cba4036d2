import type { ActedBy, Action } from '../alarms/alarm.ts'
import type { AckView } from '../alarms/notify/acknowledgements.ts'
import type { Subscription } from '../alarms/notify/subscriptions.ts'
import type { Verdict } from '../derive/verdict.ts'
import type { Outcome } from '../outcome.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { NotificationsReply } from '../wire/notifications.ts'
import type { CounterDaysReply, CounterView, HealthReply, IndexView } from '../wire/replies.ts'

/** All that the page side may ask of the watch, and what it is answered: plain data both ways. */
export interface Questions {
  /** What a person does with an alarm. Repeating it changes nothing. */
  act: { asked: { plant: string; alarm: string; action: Action; actedBy: ActedBy }; answer: AlarmView }
  /** One acknowledgement for all alarms of an event that were raised up to then. */
  acknowledgeEpisode: {
    asked: { plant: string; episode: string; seenRaisedAt: number; actedBy: ActedBy }
    answer: AlarmView[]
  }
  /** To the simulator of a simulated plant; the watch sends to no other. */
  command: { asked: { plant: string; control: string; payload: string }; answer: null }
  /** Which instruments do not fit the others; null: none. */
  verdict: { asked: { plant: string; verdict: Verdict | null }; answer: null }
  counters: { asked: { plant: string }; answer: CounterView[] }
  indices: { asked: { plant: string }; answer: IndexView[] }
  counterDays: {
    asked: { plant: string; counter: string; from: string; to: string }
    answer: CounterDaysReply
  }
  health: { asked: null; answer: HealthReply }
  notifications: { asked: null; answer: NotificationsReply }
  testMessage: { asked: { recipient: string | null }; answer: { planned: number } }
  enableChannel: { asked: { channel: string }; answer: null }
  addBrowser: { asked: { recipient: string; subscription: Subscription }; answer: null }
  /** The page behind a link in a message; looking changes nothing. */
  ackView: { asked: { token: string }; answer: AckView }
  acknowledge: { asked: { token: string; raisedAt: number }; answer: AckView }
}

export type Question = keyof Questions

/** Asks the watch. A refusal is an answer like any other: the promise is never rejected. */
export type Ask = <Q extends Question>(
  question: Q,
  asked: Questions[Q]['asked'],
) => Promise<Outcome<Questions[Q]['answer']>>

/** What answers each question. */
export type Answers = {
  [Q in Question]: (
    asked: Questions[Q]['asked'],
  ) => Outcome<Questions[Q]['answer']> | Promise<Outcome<Questions[Q]['answer']>>
}
