/** Runs tasks one after the other, in the order in which they were given. */
export function createTurns(): <T>(task: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve()
  return (task) => {
    const result = last.then(task)
    last = result.catch(() => {})
    return result
  }
}
