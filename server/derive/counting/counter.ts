import type { Counter, CounterContext } from './counterContext.ts'
import { createEventCounter } from './eventCounter.ts'
import { createIntegrated } from './integratedCounter.ts'
import type { CounterKind } from './kind.ts'
import { createMeteredCounter } from './meteredCounter.ts'

export function createCounter(kind: CounterKind, context: CounterContext): Counter {
  const { counting } = kind
  if (counting.by === 'events') return createEventCounter(kind, counting, context)
  const meter = counting.by === 'integral' ? counting.meter : undefined
  const instrument = meter && context.plant.instruments.find((one) => one.quantity === meter.role)
  if (meter && instrument)
    return createMeteredCounter(
      { kind, meter, instrument, check: createIntegrated(kind, context, '.integrated') },
      context,
    )
  const { tally, tick } = createIntegrated(kind, context)
  // A meter that is gone may come back: what was integrated meanwhile must not be counted again.
  tally.memory = undefined
  return { kind, tally, tick, watches: [] }
}
