/** Who wants to be told. Called in the order of adding, synchronously. */
export interface Listeners<T> {
  /** @returns the function that removes the listener again. */
  add(listener: (value: T) => void): () => void
  call(value: T): void
}

/**
 * @param onFault Told of what a listener threw; the other listeners, and whoever calls, go on. Without it the fault goes
 * to whoever calls.
 */
export function createListeners<T>(onFault: (error: unknown) => void = rethrow): Listeners<T> {
  /** Made anew with every change, so that a call allocates nothing and reaches whoever was there when it began. */
  let all: readonly ((value: T) => void)[] = []
  return {
    add(listener) {
      all = [...all, listener]
      return () => {
        all = all.filter((one) => one !== listener)
      }
    },
    call(value) {
      const called = all
      for (let i = 0; i < called.length; i++) {
        try {
          called[i]!(value)
        } catch (error) {
          onFault(error)
        }
      }
    },
  }
}

function rethrow(error: unknown): never {
  throw error
}
