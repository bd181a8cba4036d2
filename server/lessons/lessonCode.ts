import { randomInt } from 'node:crypto'

/** No letter that is taken for another, nor for a digit, when read from a wall: no l, no q, no w; y is no vowel here. */
const CONSONANTS = 'bdfgkmnprstv'
const VOWELS = 'aeiou'
const SYLLABLES = 4
const HALF = SYLLABLES

/**
 * A code that can be said aloud, "mora-tuke": 60⁴ = 13 million of them, for a few hours, and wrong ones make whoever
 * tries wait longer each time.
 */
export function makeLessonCode(random: (below: number) => number = randomInt): string {
  const syllable = () => CONSONANTS[random(CONSONANTS.length)]! + VOWELS[random(VOWELS.length)]!
  const letters = Array.from({ length: SYLLABLES }, syllable).join('')
  return `${letters.slice(0, HALF)}-${letters.slice(HALF)}`
}

/** As people type it: capitals, spaces or nothing for the dash. */
export function readLessonCode(typed: string): string {
  const letters = typed.toLowerCase().replace(/[^a-z]/g, '')
  return `${letters.slice(0, HALF)}-${letters.slice(HALF)}`
}
