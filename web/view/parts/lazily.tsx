import { signal } from '@preact/signals'
import type { ComponentType } from 'preact'
import { untilLoaded } from '../../connect/linkStatus.ts'

/** A part of the page that is fetched when it is first shown; its place is empty until it comes, or says why it does not. */
export function lazily<Props extends object>(
  load: () => Promise<ComponentType<Props>>,
): ComponentType<Props> {
  const loaded = signal<{ part: ComponentType<Props> } | null>(null)
  const hasFailed = signal(false)
  let isAsked = false

  return function Lazy(props: Props) {
    if (!isAsked) {
      isAsked = true
      const fail = () => {
        hasFailed.value = true
      }
      void untilLoaded(load, fail).then((part) => {
        loaded.value = { part }
      })
    }
    const Part = loaded.value?.part
    if (Part) return <Part {...props} />
    if (!hasFailed.value) return null
    return (
      <p class="screen" role="status" data-banner="missing">
        This part of the page could not be fetched: no connection to the server. Trying again.
      </p>
    )
  }
}
