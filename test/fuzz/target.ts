import type fc from 'fast-check'

/** Something of the product that takes what strangers send. */
export interface Target {
  /** As in `--target NAME` and in the table of results. */
  name: string
  /** Its part of all cases; the parts of the table (targets/index.ts) add up to 1. */
  share: number
  open(): OpenTarget | Promise<OpenTarget>
}

export interface OpenTarget {
  cases: fc.Arbitrary<unknown>
  /** @throws where the case has found a fault: a crash, an answer that cannot be, a reading that is none. */
  run(one: unknown): void | Promise<void>
  /** What has to be put right before the next case; its time is nobody's. */
  before?(): void | Promise<void>
  close?(): void | Promise<void>
}

/** What a target does with its own kind of cases. */
export interface Ways<Case> extends OpenTarget {
  cases: fc.Arbitrary<Case>
  run(one: Case): void | Promise<void>
}

export function opened<Case>({ run, ...rest }: Ways<Case>): OpenTarget {
  return { ...rest, run: (one) => run(one as Case) }
}

/** @throws {Error} with the sentence, where a case shows a fault. */
export function demand(holds: boolean, sentence: () => string): asserts holds {
  if (!holds) throw new Error(sentence())
}
