import { formatCount, formatMegabytes, formatNumber } from '../../../server/wire/numbers.ts'
import type { CertificateHealth, HealthReply, QueueHealth } from '../../../server/wire/replies.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { durationWords } from '../../format/age.ts'
import { dateTime, localZone } from '../../format/time.ts'
import { DoubtList } from '../parts/doubtList.tsx'
import { Fact } from '../parts/fact.tsx'
import { Panel, Sign } from '../parts/panel.tsx'
import { PolledScreen } from '../parts/polledScreen.tsx'
import { WideTable } from '../parts/wideTable.tsx'
import { NotificationsPanel } from './notificationsPanel.tsx'
import { TopicPanel, UnmappedPanel } from './topics.tsx'

const EVERY_MS = 2000

/** How the server itself is: what comes in, what is lost, and what it could not understand. */
export function HealthScreen() {
  const health = usePolled(http.health, EVERY_MS, [])
  const reply = health.reply.value
  const error = health.error.value
  return (
    <PolledScreen
      screen="health"
      title="Health of the server"
      asked={health}
      kept="What is shown was last received."
    >
      {!reply && !error && <p>Asking the server…</p>}
      {reply && (
        <>
          <Overview reply={reply} />
          <DoubtPanel doubts={reply.doubts} />
          <div class="stack health-pair">
            <StagePanel reply={reply} />
            <QueuePanel queues={reply.queues} />
          </div>
          <NotificationsPanel />
          <UnmappedPanel unmapped={reply.unmapped} dropped={reply.unmappedDropped} now={reply.at} />
          <TopicPanel topics={reply.topics} now={reply.at} />
        </>
      )}
    </PolledScreen>
  )
}

/** Only where there is something: a plant file is mostly in order. */
function DoubtPanel({ doubts }: { doubts: HealthReply['doubts'] }) {
  if (doubts.length === 0) return null
  return (
    <Panel id="doubts" title="Commissioning check" count={doubts.length}>
      {[...new Set(doubts.map(({ plant }) => plant))].map((plant) => (
        <div key={plant}>
          <h3>{plant}</h3>
          <DoubtList doubts={doubts.filter((one) => one.plant === plant)} />
        </div>
      ))}
    </Panel>
  )
}

function Overview({ reply }: { reply: HealthReply }) {
  const { source, storing } = reply
  return (
    <Panel id="overview" title="Overview">
      <dl class="facts facts-wide">
        <State word="Source" isBad={!source.connected}>
          {`${source.name}: ${source.connected ? 'connected' : `not connected ${source.detail ?? ''}`}`}
        </State>
        <State word="History" isBad={!storing.ok}>
          {storing.ok
            ? 'measurements are being stored'
            : `not stored: ${storing.detail ?? 'no reason given'}`}
        </State>
        <State word="Data" isBad={!reply.flow.ok}>
          {reply.flow.ok ? 'measurements come in and are kept' : reply.flow.reasons.join(' ')}
        </State>
        <Untold reply={reply} />
        {reply.certificate && (
          <State word="Certificate" isBad={reply.certificate.isEnding || reply.certificate.fault !== null}>
            {certificateText(reply.certificate, reply.at)}
          </State>
        )}
        <Fact word="Running">
          for {durationWords(reply.at - reply.startedAt)}, since {dateTime(reply.startedAt, localZone)}
        </Fact>
        <Fact word="Event-loop delay">
          {formatNumber(reply.eventLoopDelayP99Ms).text} ms (99th percentile)
        </Fact>
        <Fact word="Memory">
          {formatMegabytes(reply.memoryRssBytes)} resident:{' '}
          {reply.processes.map((one) => `${one.name} ${formatMegabytes(one.memoryRssBytes)}`).join(', ')}
        </Fact>
        <Fact word="Page side">
          {reply.pageRestarts === 0 ? 'never ended' : `ended and started again ${reply.pageRestarts} times`}
        </Fact>
        <Fact word="Version">
          {reply.version}, with <a href="/notices.txt">the work of others under their licences</a>
        </Fact>
      </dl>
    </Panel>
  )
}

/** What nobody may have seen on the console. */
function Untold({ reply: { refusedFiles, lastFault } }: { reply: HealthReply }) {
  return (
    <>
      {refusedFiles && (
        <State word="Plant files" isBad>
          {`changed, and not taken over since ${dateTime(refusedFiles.at, localZone)}; the plants run on as they were. ${refusedFiles.complaints.join(' · ')}`}
        </State>
      )}
      {lastFault && (
        <State word="Before this start" isBad>
          {`the server ended by itself on ${dateTime(lastFault.at, localZone)}: ${lastFault.message}`}
        </State>
      )}
    </>
  )
}

function certificateText({ endsAt, isEnding, fault }: CertificateHealth, now: number): string {
  const word = endsAt <= now ? 'ended' : 'ends'
  const day = `${word} on ${dateTime(endsAt, localZone)}`
  return [isEnding ? `${day}: renew it` : day, fault].filter((part) => part !== null).join('. ')
}

/** Marked with a sign, not by colour alone, where it is not as it should be. */
function State({ word, isBad, children }: { word: string; isBad: boolean; children: string }) {
  return (
    <Fact word={word} data-fact={word} class={isBad ? 'fact-bad' : undefined}>
      {isBad && <Sign />}
      {children}
    </Fact>
  )
}

function StagePanel({ reply }: { reply: HealthReply }) {
  return (
    <Panel id="stages" title="Stages">
      <WideTable
        caption="What passed through each stage since the start"
        heads={['Stage', '#Per second', '#Total', '#Faults']}
        remarkHead="Remark"
        rows={reply.stages.map(({ name, perSecond, total, faults, detail }) => ({
          key: name,
          isBad: faults > 0,
          cells: [name, perSecond.toFixed(1), formatCount(total), formatCount(faults)],
          remark: detail ?? '',
        }))}
      />
    </Panel>
  )
}

function QueuePanel({ queues }: { queues: QueueHealth[] }) {
  return (
    <Panel id="queues" title="Queues">
      <WideTable
        caption="Every queue has a limit and a rule for when it is full"
        heads={['Queue', '#Waiting', '#Limit', '#Dropped']}
        remarkHead="When full"
        rows={queues.map(({ name, length, limit, policy, dropped }) => ({
          key: name,
          isBad: dropped > 0,
          cells: [name, formatCount(length), formatCount(limit), formatCount(dropped)],
          remark: policy,
        }))}
      />
    </Panel>
  )
}
