import type { HealthReply, TopicHealth } from '../../../server/wire/replies.ts'
import { agoWords } from '../../format/age.ts'
import { formatCount } from '../../format/numbers.ts'
import { counted } from '../../format/words.ts'
import { Panel } from '../parts/panel.tsx'
import { HealthTable } from './healthTable.tsx'

export function TopicPanel({ topics, now }: { topics: TopicHealth[]; now: number }) {
  const faulty = topics.filter((topic) => topic.faults > 0).length
  return (
    <Panel id="topics" title="Topics" aside={<span class="count">{faulty} of {topics.length} with faults</span>}>
      <HealthTable
        caption="Topics that an instrument of a plant file reads"
        heads={['Topic', 'Plant', 'Instrument', '#Messages', '#Faults', '#Last', 'Last fault']}
        rows={[...topics]
          .sort((a, b) => b.faults - a.faults)
          .map((topic) => ({
            key: `${topic.topic} ${topic.instrument}`,
            isBad: topic.faults > 0,
            cells: [
              <code key="topic">{topic.topic}</code>,
              topic.plant,
              topic.instrument,
              formatCount(topic.received),
              formatCount(topic.faults),
              agoWords(topic.lastReceivedAt, now),
              <LastFault key="fault" topic={topic} now={now} />,
            ],
          }))}
      />
    </Panel>
  )
}

function LastFault({ topic: { lastFault }, now }: { topic: TopicHealth; now: number }) {
  if (!lastFault) return null
  return (
    <span class="last-fault">
      {lastFault.message} ({agoWords(lastFault.at, now)}) Received: <code>{lastFault.example}</code>
    </span>
  )
}

type UnmappedProps = { unmapped: HealthReply['unmapped']; dropped: number; now: number }

export function UnmappedPanel({ unmapped, dropped, now }: UnmappedProps) {
  return (
    <Panel id="unmapped" title="Unmapped topics" aside={<span class="count">{unmapped.length}</span>}>
      {unmapped.length === 0 && <p class="quiet">Every topic received belongs to an instrument.</p>}
      {unmapped.length > 0 && (
        <HealthTable
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
