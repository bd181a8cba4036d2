import type { PlantDoubt } from '../../../server/wire/plant.ts'

/** What a plant file says that can hardly be meant: where, what stands there, and what would fit. */
export function DoubtList({ doubts }: { doubts: readonly PlantDoubt[] }) {
  return (
    <ul class="missing">
      {doubts.map(({ path, line, received, expected }) => (
        <li key={`${path} ${received}`}>
          <b>
            <code>{path}</code>
            {line !== null && ` (line ${line})`}
          </b>{' '}
          is {received}; expected {expected}
        </li>
      ))}
    </ul>
  )
}
