import { ZxcvbnFactory } from '@zxcvbn-ts/core'
import { adjacencyGraphs, dictionary } from '@zxcvbn-ts/language-common'

/** Of longer ones only this many letters are judged: it takes milliseconds of the event loop, more than in proportion. */
const MOST_JUDGED = 48
/** Fewer guesses than 10⁸: too few even at the dear cost of one. */
const WEAK_BELOW_LOG10 = 8

/** Why a password is easily guessed, by the part of it that gives most away; in words that follow "expected". */
const WORDS: Record<string, string> = {
  dictionary:
    'one that is not among the most used passwords, nor made of one, or of the name, with a few more characters',
  sequence: 'one that is no sequence such as abcd or 1234',
  repeat: 'one that does not repeat the same few characters',
  spatial: 'one that is no row of keys on the keyboard',
  regex: 'more than a date or a year',
  date: 'more than a date or a year',
}
const OTHERWISE = 'one that is harder to guess: some words that have nothing to do with one another will do'

let judge: ZxcvbnFactory | undefined

/**
 * What is wrong with a password that many people use, or that a program would try early; undefined when it will do.
 * Takes some 20 ms and the lists some megabytes, so call it only for somebody who has shown a code or a password.
 */
export function commonFault(password: string, name: string): string | undefined {
  // Made when first needed: most starts of the server never need it.
  judge ??= new ZxcvbnFactory({ dictionary, graphs: adjacencyGraphs })
  const letters = [...password.normalize('NFKC')].slice(0, MOST_JUDGED).join('')
  const { guessesLog10, sequence } = judge.check(letters, [name, 'headrace'])
  if (guessesLog10 >= WEAK_BELOW_LOG10) return undefined
  const longest = [...sequence].sort((a, b) => b.token.length - a.token.length)[0]
  return WORDS[longest?.pattern ?? ''] ?? OTHERWISE
}
