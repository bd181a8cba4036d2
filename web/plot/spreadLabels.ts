/**
 * Moves labels apart that would cover each other, each as little as needed and keeping their order.
 *
 * @param wanted Where each label would like to be, px from the top.
 * @param gap Least distance [px] between two.
 * @param bounds Limits [px] from the top.
 */
export function spreadLabels(
  wanted: readonly number[],
  gap: number,
  [top, bottom]: readonly [number, number],
): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a]! - wanted[b]!)
  const placed = [...wanted]
  let floor = top
  for (const i of order) {
    placed[i] = Math.max(wanted[i]!, floor)
    floor = placed[i]! + gap
  }
  let ceiling = bottom
  for (const i of order.reverse()) {
    placed[i] = Math.min(placed[i]!, ceiling)
    ceiling = placed[i]! - gap
  }
  return placed
}
