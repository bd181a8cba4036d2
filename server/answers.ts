import { acknowledgeEpisode } from './alarms/episodes/acknowledge.ts'
import type { Notify } from './alarms/notify/openNotify.ts'
import type { Answers } from './channel/questions.ts'
import type { Broker } from './ingest/broker/broker.ts'
import type { LivePlant } from './livePlant.ts'
import { DONE, granted, type Outcome, refuse } from './outcome.ts'
import type { Watch } from './watch.ts'

/** What the watch answers the page side, each at once from memory or a short read. */
export function createAnswers({ plants, notify, health }: Watch, { broker }: AnswerEdges): Answers {
  return {
    ...plantAnswers(plants, broker),
    ...notifyAnswers(notify),
    health: () => granted(health.reply()),
  }
}

interface AnswerEdges {
  broker: Pick<Broker, 'publish'>
}

function plantAnswers(plants: Watch['plants'], broker: Pick<Broker, 'publish'>) {
  function at<T>(plant: string, answer: (live: LivePlant) => Outcome<T>): Outcome<T> {
    const live = plants.get(plant)
    return live ? answer(live) : refuse(404, `There is no plant "${plant.slice(0, 64)}".`)
  }
  return {
    act: ({ plant, alarm, action, actedBy }) =>
      at(plant, ({ board }) => {
        const view = board.act(alarm, action, actedBy)
        return view ? granted(view) : refuse(404, `This plant has no alarm "${alarm.slice(0, 64)}".`)
      }),
    acknowledgeEpisode: ({ plant, actedBy, ...seen }) =>
      at(plant, ({ board }) => {
        const views = acknowledgeEpisode(board, seen, actedBy)
        const none = `This plant has no event "${seen.episode.slice(0, 64)}".`
        return views.length > 0 ? granted(views) : refuse(404, none)
      }),
    command: ({ plant, control, payload }) =>
      at(plant, ({ plant: { simulated, simulation } }) => {
        const topic = simulation?.controls.find((one) => one.id === control)?.topic
        if (!simulated || topic === undefined) return refuse(403, 'A real plant is never commanded.')
        broker.publish(topic, payload)
        return DONE
      }),
    verdict: ({ plant, verdict }) =>
      at(plant, ({ setVerdict }) => {
        setVerdict(verdict ?? undefined)
        return DONE
      }),
    counters: ({ plant }) => at(plant, ({ counters }) => granted(counters.views())),
    indices: ({ plant }) => at(plant, ({ counters }) => granted(counters.indices())),
    counterDays: ({ plant, counter, ...span }) =>
      at(plant, ({ counters }) => {
        const days = counters.days(counter, span)
        return days ? granted(days) : refuse(404, `This plant has no counter "${counter.slice(0, 64)}".`)
      }),
  } satisfies Partial<Answers>
}

export function notifyAnswers(notify: Notify) {
  return {
    notifications: () => granted(notify.view()),
    testMessage({ recipient }) {
      const planned = notify.test(recipient ?? undefined)
      return planned === undefined
        ? refuse(404, `There is no recipient "${recipient}".`)
        : granted({ planned })
    },
    enableChannel: ({ channel }) =>
      notify.enable(channel) ? DONE : refuse(404, `There is no channel "${channel.slice(0, 64)}".`),
    addBrowser: ({ recipient, subscription }) =>
      notify.subscribe(recipient, subscription)
        ? DONE
        : refuse(404, `No channel to browsers is set up for "${recipient}".`),
    ackView: ({ token }) => granted(notify.acknowledgements.view(token)),
    acknowledge: ({ token, raisedAt }) => granted(notify.acknowledgements.acknowledge(token, raisedAt)),
  } satisfies Partial<Answers>
}
