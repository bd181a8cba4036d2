import { createAllowance, createAllowances, type Rate } from '../../allowance.ts'

/** New connections of one network: a handshake costs up to some milliseconds of the thread that judges over-speed. */
export const OF_NETWORK: Rate = { perSecond: 20, burst: 100 }
/** All those together of networks from which nobody has logged in: so many networks cost no more than a few. */
export const OF_STRANGERS: Rate = { perSecond: 50, burst: 200 }
/** While that is more than half used up, what one of them has at most. */
const OF_STRANGER: Rate = { perSecond: 1, burst: 5 }
/** Networks remembered; the one that logged in longest ago is forgotten. */
const MOST_KNOWN = 10_000

/** Who may begin TLS. */
export interface Handshakes {
  /** @returns undefined where it may, else whose rate is used up. */
  refuse(network: string): 'network' | 'strangers' | undefined
  /** Somebody has logged in from there: strangers no longer take its room. */
  known(network: string): void
}

export function createHandshakes(mono: () => number): Handshakes {
  const networks = createAllowances('TLS handshakes', OF_NETWORK, mono)
  const shares = createAllowances('TLS handshakes of strangers', OF_STRANGER, mono)
  // Two halves: the first for whoever comes, the other shared out.
  const half: Rate = { perSecond: OF_STRANGERS.perSecond / 2, burst: OF_STRANGERS.burst / 2 }
  const free = createAllowance(half, mono)
  const shared = createAllowance(half, mono)
  const logged = new Set<string>()

  return {
    refuse(network) {
      if (!networks.take(network)) return 'network'
      if (logged.has(network) || free.take()) return undefined
      return shares.take(network) && shared.take() ? undefined : 'strangers'
    },
    known(network) {
      logged.delete(network)
      logged.add(network)
      if (logged.size > MOST_KNOWN) logged.delete(logged.values().next().value!)
    },
  }
}
