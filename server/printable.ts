/**
 * Control, format and other unseen characters written out, e.g. "\u{1b}": such a text begins no line of its own and steers
 * no terminal. Those that turn the direction of writing are among them.
 */
export function printable(text: string): string {
  return text.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, (one) => `\\u{${one.codePointAt(0)!.toString(16)}}`)
}
