/** Packs and records kept; the one asked for longest ago goes first. */
const MOST_KEPT = 12
/** Larger ones are made anew each time [bytes or characters]. */
const LARGEST_KEPT = 4_000_000

interface Kept {
  key: string
  made: Promise<string | Uint8Array | undefined>
}

/** Packs and records of finished runs, made anew only when something about the run has changed. */
export function createPackShelf() {
  const kept = new Map<string, Kept>()

  return async <Made extends string | Uint8Array>(
    name: string,
    key: string,
    make: () => Promise<Made | undefined>,
  ): Promise<Made | undefined> => {
    const known = kept.get(name)
    kept.delete(name)
    // Under one name always the same kind of thing is kept.
    const one =
      known?.key === key ? (known as Kept & { made: Promise<Made | undefined> }) : { key, made: make() }
    kept.set(name, one)
    if (kept.size > MOST_KEPT) kept.delete(kept.keys().next().value!)
    const forget = () => kept.get(name) === one && kept.delete(name)
    const made = await one.made.catch((error) => {
      forget()
      throw error
    })
    if (made === undefined || made.length > LARGEST_KEPT) forget()
    return made
  }
}
