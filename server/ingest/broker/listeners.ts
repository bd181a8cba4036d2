/** Who wants to be told. Called in the order of adding, synchronously. */
export interface Listeners<T> {
  /** @returns the function that removes the listener again. */
  add(listener: (value: T) => void): () => void
  call(value: T): void
}

export function createListeners<T>(): Listeners<T> {
  const all = new Set<(value: T) => void>()
  return {
    add(listener) {
      all.add(listener)
      return () => {
        all.delete(listener)
      }
    },
    call(value) {
      for (const listener of all) listener(value)
    },
  }
}
