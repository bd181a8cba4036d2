/** JSON pointer, RFC 6901. */

/** Finds the value in a document; undefined where there is none (JSON itself has no undefined). */
export type Pointer = (document: unknown) => unknown

/** @returns the pointer, or the sentence that says what is wrong with the text. */
export function compilePointer(text: string): Pointer | { expected: string } {
  if (text !== '' && !text.startsWith('/'))
    return { expected: 'a JSON pointer: empty, or beginning with "/" (RFC 6901)' }
  if (/~(?![01])/.test(text)) return { expected: 'a JSON pointer with "~" written as "~0" (RFC 6901)' }
  const tokens = text
    .split('/')
    .slice(1)
    // in this order: "~01" is "~1", not "/"
    .map((token) => token.replaceAll('~1', '/').replaceAll('~0', '~'))
  if (tokens.length === 1) return (document) => step(document, tokens[0]!)
  return (document) => tokens.reduce(step, document)
}

const INDEX = /^(?:0|[1-9]\d*)$/

function step(place: unknown, token: string): unknown {
  if (typeof place !== 'object' || place === null) return undefined
  if (Array.isArray(place)) return INDEX.test(token) ? place[Number(token)] : undefined
  // own properties only: "/toString" is not in the document
  return Object.hasOwn(place, token) ? (place as Record<string, unknown>)[token] : undefined
}
