/** Dash patterns [px] that tell the lines of a chart apart without colour; the legend draws the same. */
export const dashes: number[][] = [[], [8, 4], [2, 3], [10, 3, 2, 3]]
