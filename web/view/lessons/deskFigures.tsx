import { deskRequests } from '../../connect/lessonRequests.ts'
import { person } from '../../connect/person.ts'
import { FigureNumber } from '../parts/figureNumber.tsx'
import { Panel } from '../parts/panel.tsx'
import { TableHead } from '../parts/wideTable.tsx'
import type { DeskProps } from './joinPanel.tsx'

const MOST_NUMBERS = 6

/** Which figures are large, which is explained, and which are hidden; with their values, for this screen alone. */
export function DeskFigures({ desk, hold, act }: DeskProps) {
  const { numbers, explained } = desk.view!
  const id = desk.lesson.id
  const asked = desk.view!.question
  const locked = asked && asked.state !== 'revealed' ? asked.figure : null
  const toggled = (list: readonly string[], figure: string) =>
    list.includes(figure) ? list.filter((one) => one !== figure) : [...list, figure]
  const name = (figure: string) => hold.byId.get(figure)?.description.name ?? figure
  const keys = new Set(hold.view.keyFigures)
  const sorted = [...hold.figures].sort(
    (a, b) => Number(keys.has(b.description.id)) - Number(keys.has(a.description.id)),
  )
  return (
    <Panel id="desk-figures" title="Figures" count="values only on this screen">
      {desk.leads.length > 0 && (
        <p class="hint">
          {desk.leads
            .map(({ hidden, from }) => `${name(hidden)} can be worked out from ${from.map(name).join(', ')}.`)
            .join(' ')}
        </p>
      )}
      <section class="desk-figures" aria-label="Figures to show and hide">
        <table class="figures-table">
          <TableHead heads={['Figure', 'Large', 'Explain', 'Hide']} />
          <tbody>
            {sorted.map((figure) => {
              const one = figure.description.id
              const isAlso = desk.alsoHidden.includes(one)
              const isLarge = numbers.includes(one)
              return (
                <tr key={one} data-desk-figure={one}>
                  <th scope="row">
                    {figure.description.name} <FigureNumber figure={figure} brief />
                    {isAlso && <span class="quiet"> hidden too: it follows</span>}
                  </th>
                  <td>
                    <input
                      type="checkbox"
                      aria-label={`Show ${figure.description.name} large`}
                      checked={isLarge}
                      disabled={!isLarge && numbers.length >= MOST_NUMBERS}
                      onChange={() => void act(deskRequests.arrange(id, { numbers: toggled(numbers, one) }))}
                    />
                  </td>
                  <td>
                    <input
                      type="checkbox"
                      aria-label={`Explain ${figure.description.name}`}
                      checked={explained === one}
                      onChange={() =>
                        void act(deskRequests.arrange(id, { explained: explained === one ? null : one }))
                      }
                    />
                  </td>
                  <td>
                    <input
                      type="checkbox"
                      aria-label={`Hide ${figure.description.name}`}
                      checked={desk.hidden.includes(one) || isAlso}
                      disabled={isAlso || one === locked}
                      onChange={() =>
                        void act(deskRequests.arrange(id, { hidden: toggled(desk.hidden, one) }))
                      }
                    />
                  </td>
                </tr>
              )
            })}
          </tbody>
        </table>
      </section>
      {person.value?.role === 'demo' && (
        <p class="hint">
          Reading is open on this machine: whoever opens the plant page here sees hidden figures.
        </p>
      )}
    </Panel>
  )
}
