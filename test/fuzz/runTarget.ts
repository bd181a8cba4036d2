import fc from 'fast-check'
import { cpuMs } from './cpuTime.ts'
import { demand, type Target } from './target.ts'

/** One case may take so much CPU time of the thread that everything shares [ms]: a quarter of a tick. */
const MOST_CPU_MS = 50
/** A case that seems to take more runs again so often: a collection of garbage or a first compilation is not the case's. */
const REPEATS = 2
/** A case that has not ended by then has hung [ms]. */
const CASE_LIMIT_MS = 30_000

export interface FuzzOptions {
  cases: number
  seed: number
  /** Where a case lies that was found before, as the report of a fault gives it. */
  path?: string
  /** The target is given up after this time [ms], which is a fault. */
  limitMs: number
}

export interface FuzzReport {
  target: string
  cases: number
  seed: number
  tookMs: number
  slowestCpuMs: number
  /** What was found, with the smallest case that shows it and how to repeat it. */
  fault?: string
}

/** Runs a target; stops at its first fault, which is shrunk. */
export async function runTarget(target: Target, options: FuzzOptions): Promise<FuzzReport> {
  const began = performance.now()
  const watch = watchProcess()
  const one = await target.open()
  let cases = 0
  let slowestCpuMs = 0

  async function cpuOf(input: unknown): Promise<number> {
    await one.before?.()
    const before = cpuMs()
    await one.run(input)
    return cpuMs() - before
  }

  async function check(input: unknown): Promise<void> {
    cases++
    let cost = await cpuOf(input)
    for (let again = 0; again < REPEATS && cost > MOST_CPU_MS; again++)
      cost = Math.min(cost, await cpuOf(input))
    watch.check()
    demand(
      cost <= MOST_CPU_MS,
      () => `it took ${Math.round(cost)} ms of CPU, expected at most ${MOST_CPU_MS}`,
    )
    slowestCpuMs = Math.max(slowestCpuMs, cost)
  }

  try {
    const { seed, path, limitMs } = options
    const details = await fc.check(fc.asyncProperty(one.cases, check), {
      seed,
      ...(path === undefined ? {} : { path }),
      numRuns: options.cases,
      timeout: CASE_LIMIT_MS,
      interruptAfterTimeLimit: limitMs,
      markInterruptAsFailure: true,
    })
    await new Promise((resolve) => setImmediate(resolve))
    const late = watch.found()
    const fault = details.failed ? faultOf(target.name, details) : late
    return {
      target: target.name,
      cases,
      seed,
      tookMs: performance.now() - began,
      slowestCpuMs,
      ...(fault === undefined ? {} : { fault }),
    }
  } finally {
    await one.close?.()
    watch.stop()
  }
}

function faultOf(name: string, details: fc.RunDetails<[unknown]>): string {
  const { errorInstance, counterexample, counterexamplePath, seed, interrupted } = details
  if (interrupted && counterexample === null) return 'it did not come to its end in time'
  const words =
    errorInstance instanceof Error ? (errorInstance.stack ?? errorInstance.message) : String(errorInstance)
  return [
    words.split('\n').slice(0, 8).join('\n'),
    `smallest case: ${fc.stringify(counterexample?.[0]).slice(0, 4000)}`,
    `to repeat: npm run test:fuzz -- --target ${name} --seed ${seed} --path ${counterexamplePath} --cases 1`,
  ].join('\n')
}

const PROTOTYPES = [Object.prototype, Array.prototype, Function.prototype, String.prototype]
const namesOf = () => PROTOTYPES.map((one) => Object.getOwnPropertyNames(one).length).join()

/** What a case can do to the whole process: leave a rejection or an exception unhandled, or change a prototype. */
function watchProcess() {
  const names = namesOf()
  const unhandled: unknown[] = []
  const note = (error: unknown) => void unhandled.push(error)
  process.on('unhandledRejection', note).on('uncaughtException', note)
  const found = () => {
    const [first] = unhandled.splice(0)
    if (first !== undefined) return `nothing handled: ${first instanceof Error ? first.stack : String(first)}`
    return namesOf() === names ? undefined : 'a prototype of the language was changed'
  }
  return {
    found,
    check() {
      const sentence = found()
      demand(sentence === undefined, () => sentence!)
    },
    stop: () => void process.off('unhandledRejection', note).off('uncaughtException', note),
  }
}
