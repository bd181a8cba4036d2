/** How many there are of each key now, such as connections of an address; keys of which there are none are forgotten. */
export interface Counts<Key> {
  of(key: Key): number
  /** @param step 1 for one more, −1 for one less. */
  add(key: Key, step: 1 | -1): void
}

export function createCounts<Key>(): Counts<Key> {
  const counts = new Map<Key, number>()
  return {
    of: (key) => counts.get(key) ?? 0,
    add(key, step) {
      const count = (counts.get(key) ?? 0) + step
      if (count > 0) counts.set(key, count)
      else counts.delete(key)
    },
  }
}
