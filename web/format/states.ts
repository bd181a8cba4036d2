/** Words for the two states of a discrete figure: [0, 1], by the quantity without its number. */
const STATES: Record<string, readonly [off: string, on: string]> = {
  jetOpen: ['closed', 'open'],
  inletValve: ['closed', 'open'],
  guardOpen: ['closed', 'open'],
  deflector: ['clear', 'in the jet'],
  gridConnected: ['no', 'yes'],
  tripped: ['no', 'tripped'],
  emergencyStop: ['no', 'pressed'],
  waterOnFloor: ['no', 'yes'],
}

const PLAIN = ['off', 'on'] as const

/** "jetOpen.2", 1 → "open". A value that is neither 0 nor 1 is no state, and its number is shown. */
export function stateWord(quantity: string, value: number): string | undefined {
  const words = STATES[quantity.split('.')[0]!] ?? PLAIN
  return value === 0 || value === 1 ? words[value] : undefined
}
