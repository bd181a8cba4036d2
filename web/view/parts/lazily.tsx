import { signal } from '@preact/signals'
import type { ComponentType } from 'preact'
import { untilLoaded } from '../../connect/linkStatus.ts'

/** A part of the page that is fetched when it is first shown; its place is empty until it comes. */
export function lazily<Props extends object>(
  load: () => Promise<ComponentType<Props>>,
): ComponentType<Props> {
  const loaded = signal<{ part: ComponentType<Props> } | null>(null)
  let isAsked = false

  return function Lazy(props: Props) {
    if (!isAsked) {
      isAsked = true
      void untilLoaded(load).then((part) => {
        loaded.value = { part }
      })
    }
    const Part = loaded.value?.part
    return Part ? <Part {...props} /> : null
  }
}
