import { useSignal } from '@preact/signals'
import { deskRequests } from '../../connect/lessonRequests.ts'
import { counted } from '../../format/words.ts'
import { Button } from '../parts/button.tsx'
import { Field, sent } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import type { DeskProps } from './joinPanel.tsx'

/** Who is there, by group: phones, records, and whether they have predicted. */
export function DeskGroups({ desk, act }: DeskProps) {
  const edited = useSignal<number | null>(null)
  const id = desk.lesson.id
  const isAsked = desk.view?.question?.state === 'asked'
  const rename = (group: number) =>
    sent(async (typed) => {
      if (await act(deskRequests.rename(id, group, typed('name')))) edited.value = null
    })
  return (
    <Panel id="groups" title="Groups" count={counted(desk.groups.length, 'group')}>
      {desk.groups.length === 0 && <p class="quiet">Nobody has joined yet.</p>}
      <ul class="lines">
        {desk.groups.map(({ number, name, word, phones, records, hasPredicted }) => (
          <li key={number} class="row apart" data-group={number}>
            <span>
              <b>{name}</b> ({word}) {counted(phones, 'phone')}, {counted(records, 'record')}
              {isAsked && (hasPredicted ? ' · ✓ predicted' : ' · … no prediction yet')}
            </span>
            {desk.code !== null && edited.value !== number && (
              <Button isSmall aria-label={`Change group ${name}`} onClick={() => (edited.value = number)}>
                Change
              </Button>
            )}
            {edited.value === number && (
              <form class="note-form" onSubmit={rename(number)}>
                <Field
                  id={`group-${number}`}
                  label="Name"
                  name="name"
                  defaultValue={name}
                  maxLength={30}
                  required
                />
                <Button type="submit" isSmall>
                  Rename
                </Button>
                <Button isSmall onClick={() => act(deskRequests.remove(id, number))}>
                  Remove, keep records
                </Button>
                <Button isSmall onClick={() => (edited.value = null)}>
                  Cancel
                </Button>
              </form>
            )}
          </li>
        ))}
      </ul>
      {desk.struck.length > 0 && (
        <details class="fold">
          <summary>Records that were struck out</summary>
          <ul class="lines">
            {desk.struck.map(({ number, groupName, reason }) => (
              <li key={number} class="row apart" data-struck={number}>
                <span>
                  {number}, {groupName}: {reason}
                </span>
                <Button isSmall action="unstrike" onClick={() => act(deskRequests.unstrike(id, number))}>
                  Take the strike back
                </Button>
              </li>
            ))}
          </ul>
        </details>
      )}
    </Panel>
  )
}
