import { type Signal, useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { RunChoices, RunSummary } from '../../../server/wire/trial.ts'
import { useDeed } from '../../connect/deed.ts'
import { usePolled } from '../../connect/poll.ts'
import { type RunsFilter, trialRequests } from '../../connect/trialRequests.ts'
import { dateTime } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import { Button } from '../parts/button.tsx'
import { ChoiceField } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import { address } from '../screens.ts'

const EVERY_MS = 10_000

/** Every run of the plant by year and class, newest first, with filters; older ones on request. */
export function SavedRuns({ plant, zone }: { plant: string; zone: string }) {
  const filter = useSignal<RunsFilter>({})
  const key = JSON.stringify(filter.value)
  const asked = usePolled(() => trialRequests.runs(plant, filter.value), EVERY_MS, [plant, key])
  const older = useSignal<{ key: string; runs: RunSummary[]; before: number | null }>(noOlder(''))
  const { error, act } = useDeed()
  const reply = asked.reply.value
  // The filters stay, with the keyboard in them, while the answer to a new choice is on its way.
  const choices = useRef<RunChoices | null>(null)
  choices.current = reply?.choices ?? choices.current
  const more = older.value.key === key ? older.value : noOlder(key)
  const first = reply?.runs ?? []
  const lowest = first.at(-1)?.id ?? Number.POSITIVE_INFINITY
  const runs = [...first, ...more.runs.filter((run) => run.id < lowest)]
  const before = more.runs.length > 0 ? more.before : (reply?.before ?? null)

  async function showOlder(): Promise<void> {
    const next = await act(trialRequests.runs(plant, { ...filter.value, before: before ?? undefined }))
    if (next) older.value = { key, runs: [...more.runs, ...next.runs], before: next.before }
  }

  return (
    <Panel id="runs" title="Saved runs" count={reply ? counted(reply.total, 'run') : ''}>
      {choices.current && <Filters choices={choices.current} filter={filter} />}
      {!reply && !asked.error.value && <p class="quiet">Reading the runs…</p>}
      {reply && runs.length === 0 && (
        <p class="quiet">{key === '{}' ? 'No run is saved yet.' : 'No run like this.'}</p>
      )}
      {groupRuns(runs).map(({ title, runs: members }) => (
        <section key={title} aria-label={title}>
          <h3 class="run-group">{title}</h3>
          <ul class="lines run-list">
            {members.map((run) => (
              <RunLine key={run.id} run={run} plant={plant} zone={zone} />
            ))}
          </ul>
        </section>
      ))}
      {before !== null && (
        <Button action="older" onClick={showOlder}>
          Show older runs
        </Button>
      )}
      {(error.value || asked.error.value) && (
        <p class="quiet">Not read: {error.value || asked.error.value}</p>
      )}
    </Panel>
  )
}

function noOlder(key: string): { key: string; runs: RunSummary[]; before: number | null } {
  return { key, runs: [], before: null }
}

function RunLine({ run, plant, zone }: { run: RunSummary; plant: string; zone: string }) {
  return (
    <li data-run={run.id}>
      <a class="run-name" href={address({ screen: 'run', plant, run: run.id })}>
        {run.name}
      </a>
      <span class="run-trial">{run.trialName}</span>
      <span class="run-facts">
        {run.group !== '' && `Group ${run.group}, `}
        <span class="number">{dateTime(run.startedAt, zone)}</span>,{' '}
        {counted(run.kept, run.takes === 'points' ? 'point' : 'trace')}
        {run.rejected > 0 && `, ${run.rejected} rejected`}
        {run.finishedAt === null && ', under way'}
      </span>
      <a
        class="run-pack"
        href={trialRequests.packAddress(plant, run.id)}
        download
        aria-label={`Download the record pack of ${run.name}`}
      >
        Download
      </a>
    </li>
  )
}

/** Only those that there is a choice of. */
function Filters({ choices, filter }: { choices: RunChoices; filter: Signal<RunsFilter> }) {
  const plain = (names: readonly string[]) => names.map((name) => ({ id: name, name }))
  const kinds = [
    ['trial', 'Trial', choices.trials],
    ['class', 'Class', plain(choices.classes)],
    ['group', 'Group', plain(choices.groups)],
    ['year', 'Year', plain(choices.years)],
  ] as const
  const shown = kinds.filter(([key, , options]) => options.length > 1 || filter.value[key] !== undefined)
  if (shown.length === 0) return null
  return (
    <div class="run-filters">
      {shown.map(([key, label, options]) => (
        <ChoiceField
          key={key}
          id={`runs-${key}`}
          label={label}
          options={[{ id: '', name: 'All' }, ...options]}
          value={filter.value[key] ?? ''}
          choose={(id) => {
            const { [key]: _, ...rest } = filter.value
            filter.value = id === '' ? rest : { ...rest, [key]: id }
          }}
        />
      ))}
    </div>
  )
}

interface RunGroup {
  /** e.g. "2026, Year 2". */
  title: string
  runs: RunSummary[]
}

/** Runs by year and class, in the order in which they come: the group of the newest run first. */
function groupRuns(runs: readonly RunSummary[]): RunGroup[] {
  const groups = new Map<string, RunGroup>()
  for (const run of runs) {
    const names = [run.year || 'No year', run.className || 'no class']
    const title = run.year === '' && run.className === '' ? 'Without year and class' : names.join(', ')
    const group = groups.get(title) ?? { title, runs: [] }
    group.runs.push(run)
    groups.set(title, group)
  }
  return [...groups.values()]
}
