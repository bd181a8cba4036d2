import type { TogetherAmount, TraceTogether } from '../../wire/trace.ts'
import { fails, holds, number, type Rule, type TraceCheckInput, unknown } from './check.ts'

type TraceRule = Rule<TraceCheckInput>

/** What is expected of an amount lies within its interval. */
export function agreesWithExpected(id: string): TraceRule {
  return {
    judge(together) {
      const found = amountOf(together, id)
      if (!found) return unknown(nothingYet(together))
      const { value, low, high, expected, expectedFrom, unit } = found
      if (expected === null) return unknown('The plant file does not give it.')
      if (low === null || high === null) return unknown('No interval can be stated for it.')
      const words = `Found ${number(value)} (95 %: ${number(low)} to ${number(high)}), ${expectedFrom} ${number(expected)} ${unit} (SI).`
      return low <= expected && expected <= high ? holds(words) : fails(words)
    },
  }
}

/** One amount is smaller than another; it does not hold where their intervals lie the other way round. */
export function isBelow(id: string, otherId: string): TraceRule {
  return {
    judge(together) {
      const [lower, upper] = [amountOf(together, id), amountOf(together, otherId)]
      if (!lower || !upper) return unknown(nothingYet(together))
      const words = `${lower.name} is ${number(lower.value)}, ${upper.name.toLowerCase()} ${number(upper.value)}.`
      if (lower.value < upper.value) return holds(words)
      const [least, most] = [lower.low ?? lower.value, upper.high ?? upper.value]
      return least > most ? fails(words) : unknown(`${words} Their intervals overlap.`)
    },
  }
}

function amountOf({ amounts }: TraceTogether, id: string): TogetherAmount | undefined {
  return amounts.find((one) => one.id === id)
}

function nothingYet({ lacking }: TraceTogether): string {
  return lacking || 'The traces do not tell it yet.'
}
