import { describe, expect, it } from 'vitest'
import { browserWords } from '../../../server/access/browserWords.ts'

describe('the words for a browser', () => {
  // Lines as these browsers send them, from memory.
  it.each([
    ['Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0', 'Firefox on Linux'],
    [
      'Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/150.0.0.0 Mobile Safari/537.36',
      'Chrome on Android',
    ],
    [
      'Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1',
      'Safari on iOS',
    ],
    ['curl/8.5.0', 'curl'],
    ['node', 'node'],
  ])('of %j are its own', (userAgent, words) => {
    expect(browserWords(userAgent)).toBe(words)
  })

  it.each([undefined, '', ' ', '<script>', 'x'.repeat(501)])('are none for %j', (userAgent) => {
    expect(browserWords(userAgent)).toBeUndefined()
  })
})
