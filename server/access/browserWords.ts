import Bowser from 'bowser'

/** Longest User-Agent header that is looked at: those of browsers are shorter, and what is longer says nothing. */
const LONGEST = 500

/** "Firefox on Linux" from a User-Agent header, or the first word of a program; undefined where it says neither. */
export function browserWords(userAgent: string | undefined): string | undefined {
  if (!userAgent || userAgent.length > LONGEST) return undefined
  const { browser, os } = Bowser.parse(userAgent)
  const words = [browser.name, os.name].filter((word): word is string => Boolean(word))
  return words.length > 0 ? words.join(' on ').slice(0, 60) : /^[\w.-]{1,40}/.exec(userAgent)?.[0]
}
