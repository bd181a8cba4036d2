import { signal } from '@preact/signals'

/** The stylesheets turn at the same width. */
const query = globalThis.matchMedia?.('(max-width: 699px)')

/** True on a phone, where what is not needed first is folded away. */
export const isNarrow = signal(query?.matches ?? false)

query?.addEventListener('change', () => {
  isNarrow.value = query.matches
})
