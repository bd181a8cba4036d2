import type { PlantDoubt } from '../../../server/wire/plant.ts'

const WORDS: Record<PlantDoubt['kind'], string> = { doubtful: 'Doubtful', missing: 'Missing', seen: 'Seen' }

/** The commissioning check: where, what stands there, and what would fit or is to be done. */
export function DoubtList({ doubts }: { doubts: readonly PlantDoubt[] }) {
  return (
    <ul class="missing">
      {doubts.map(({ kind, path, line, received, expected }) => (
        <li key={`${path} ${received}`} data-doubt={kind}>
          {WORDS[kind]}:{' '}
          <b>
            <code>{path}</code>
            {line !== null && ` (line ${line})`}
          </b>
          {kind === 'missing' ? `: ${expected}` : ` is ${received}; expected ${expected}`}
        </li>
      ))}
    </ul>
  )
}
