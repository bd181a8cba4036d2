/** Items by what they have in common, in the order in which the first of each came. */
export function groupBy<Item, Key>(items: Iterable<Item>, keyOf: (item: Item) => Key): Map<Key, Item[]> {
  const groups = new Map<Key, Item[]>()
  for (const item of items) {
    const key = keyOf(item)
    const group = groups.get(key)
    if (group) group.push(item)
    else groups.set(key, [item])
  }
  return groups
}

/** By each of the figures that it watches: who watches it. */
export function watchersOf<Watcher extends { watches: readonly string[] }>(
  watchers: readonly Watcher[],
): Map<string, Watcher[]> {
  const pairs = watchers.flatMap((watcher) => watcher.watches.map((figure) => ({ figure, watcher })))
  const groups = groupBy(pairs, ({ figure }) => figure)
  return new Map([...groups].map(([figure, group]) => [figure, group.map(({ watcher }) => watcher)]))
}
