import { formatCount } from '../../../server/wire/numbers.ts'
import type { HealthReply, TopicHealth } from '../../../server/wire/replies.ts'
import { agoWords } from '../../format/age.ts'
import { counted } from '../../format/words.ts'
import { Fold } from '../parts/fold.tsx'
import { Panel, Sign } from '../parts/panel.tsx'
import { WideTable } from '../parts/wideTable.tsx'
import { address } from '../screens.ts'

export function TopicPanel({ topics, now }: { topics: TopicHealth[]; now: number }) {
  const faulty = topics.filter((topic) => topic.faults > 0)
  return (
    <Panel id="topics" title="Topics" count={`${faulty.length} of ${topics.length} with faults`}>
      <FaultList topics={faulty} now={now} />
      <p class="quiet">
        What a plant file may say, roles, units and payloads among it, stands in the{' '}
        <a href={address({ screen: 'reference' })}>reference</a>.
      </p>
      {[...new Set(topics.map(({ plant }) => plant))].map((plant) => (
        <PlantTopics
          key={plant}
          plant={plant}
          topics={topics.filter((topic) => topic.plant === plant)}
          now={now}
        />
      ))}
    </Panel>
  )
}

/** Folded: a plant has dozens of topics, and what is wrong with them stands above. */
function PlantTopics({ plant, topics, now }: { plant: string; topics: TopicHealth[]; now: number }) {
  const faulty = topics.filter((topic) => topic.faults > 0).length
  const newest = Math.max(...topics.map((topic) => topic.lastReceivedAt ?? Number.NEGATIVE_INFINITY))
  const last = agoWords(Number.isFinite(newest) ? newest : null, now)
  return (
    <Fold
      title={plant}
      note={`${counted(topics.length, 'topic')}, ${faulty === 0 ? 'none' : faulty} with faults, last message ${last}`}
      always
    >
      <WideTable
        caption={`Topics that the instruments of ${plant} read`}
        heads={['Topic', 'Instrument', '#Messages', '#Faults', '#Last']}
        rows={[...topics]
          .sort((a, b) => b.faults - a.faults)
          .map((topic) => ({
            key: `${topic.topic} ${topic.instrument}`,
            isBad: topic.faults > 0,
            cells: [
              <code key="topic">{topic.topic}</code>,
              topic.instrument,
              formatCount(topic.received),
              formatCount(topic.faults),
              agoWords(topic.lastReceivedAt, now),
            ],
          }))}
      />
    </Fold>
  )
}

/** Where it was, what came and what was expected, for each topic that failed. */
function FaultList({ topics, now }: { topics: TopicHealth[]; now: number }) {
  if (topics.length === 0) return null
  return (
    <ul class="lines faults">
      {topics.map(({ topic, lastFault, faults }) => (
        <li key={topic} data-fault={topic}>
          <p>
            <Sign />
            <code>{topic}</code>
          </p>
          {lastFault && (
            <p>
              {lastFault.message} Received: <code>{lastFault.example}</code>
            </p>
          )}
          <p class="quiet">
            {counted(faults, 'fault')}
            {lastFault && `, the last ${agoWords(lastFault.at, now)}`}
          </p>
        </li>
      ))}
    </ul>
  )
}

type UnmappedProps = { unmapped: HealthReply['unmapped']; dropped: number; now: number }

export function UnmappedPanel({ unmapped, dropped, now }: UnmappedProps) {
  return (
    <Panel id="unmapped" title="Unmapped topics" count={unmapped.length}>
      {unmapped.length === 0 && <p class="quiet">Every topic received belongs to an instrument.</p>}
      {unmapped.length > 0 && (
        <WideTable
          caption="Topics received that no plant file mentions"
          heads={['Topic', '#Messages', '#Last', 'Example']}
          rows={unmapped.map(({ topic, received, example, lastReceivedAt }) => ({
            key: topic,
            isBad: false,
            cells: [
              <code key="topic">{topic}</code>,
              formatCount(received),
              agoWords(lastReceivedAt, now),
              <code key="example">{example}</code>,
            ],
          }))}
        />
      )}
      {dropped > 0 && <p class="quiet">{counted(dropped, 'further topic')} not listed: the list is full.</p>}
    </Panel>
  )
}
