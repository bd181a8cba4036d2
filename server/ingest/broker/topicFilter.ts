/** MQTT topic filters (MQTT 3.1.1 § 4.7). */

/**
 * Whether `filter` takes in `topic`: "+" stands for one level, "#" at the end for any number, itself included.
 * A filter that begins with a wildcard does not match a topic that begins with "$" (§ 4.7.2).
 */
export function matchesFilter(filter: string, topic: string): boolean {
  if (topic.startsWith('$') && (filter.startsWith('+') || filter.startsWith('#'))) return false
  const wanted = filter.split('/')
  const levels = topic.split('/')
  for (const [i, level] of wanted.entries()) {
    if (level === '#') return i === wanted.length - 1
    if (i >= levels.length || (level !== '+' && level !== levels[i])) return false
  }
  return wanted.length === levels.length
}

/** Topics of a broker about itself begin with "$"; asked for every message, so without a text made for it. */
export function isOfBroker(topic: string): boolean {
  return topic.charCodeAt(0) === 36
}

/** Whether everything that `narrow` takes in is taken in by `wide` too. A "+" of `narrow` is read as a level of its own. */
function covers(wide: string, narrow: string): boolean {
  if (narrow === '#') return false
  if (!narrow.endsWith('/#')) return matchesFilter(wide, narrow)
  // "a/#" begins with "a"; an open-ended filter that takes in that takes in all below it.
  return (wide === '#' || wide.endsWith('/#')) && matchesFilter(wide, narrow.slice(0, -2))
}

/** The subscriptions of one broker. */
export interface FilterSet {
  /** @returns those that were not there before. */
  add(filters: readonly string[]): string[]
  remove(filters: readonly string[]): void
  matches(topic: string): boolean
  /**
   * The fewest filters with the same effect: one that lies within another is left out, because many brokers send
   * a message once per matching subscription and it would be counted twice. Two that overlap in part ("a/+" and
   * "+/b") are not merged.
   */
  minimal(): string[]
}

export function createFilterSet(): FilterSet {
  const exact = new Set<string>()
  const wild = new Set<string>()
  return {
    add(filters) {
      const added = filters.filter((one) => !exact.has(one) && !wild.has(one))
      for (const one of added) (/[+#]/.test(one) ? wild : exact).add(one)
      return [...new Set(added)]
    },
    remove(filters) {
      for (const one of filters) {
        exact.delete(one)
        wild.delete(one)
      }
    },
    matches(topic) {
      if (exact.has(topic)) return true
      for (const filter of wild) if (matchesFilter(filter, topic)) return true
      return false
    },
    minimal() {
      const wilds = [...wild]
      const all = [...exact, ...wilds]
      return all.filter((one) => !wilds.some((other) => other !== one && covers(other, one)))
    },
  }
}
