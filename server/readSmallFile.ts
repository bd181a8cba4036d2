import { closeSync, constants, fstatSync, openSync, readFileSync } from 'node:fs'

/** Nothing that people write by hand, and no certificate, is larger [bytes]. */
const LARGEST = 1_000_000

/**
 * The text of a file that is followed while everything runs. What is no file, such as a pipe or a device, would keep the thread
 * waiting for ever, and a very large one for long.
 *
 * @throws {Error} with what it is and what was expected, or as the system says it.
 */
export function readSmallFile(file: string): string {
  // without waiting for somebody at the other end of a pipe
  const descriptor = openSync(file, constants.O_RDONLY | constants.O_NONBLOCK)
  try {
    const found = fstatSync(descriptor)
    if (!found.isFile()) throw new Error('it is a folder, a pipe or a device, expected a file')
    if (found.size > LARGEST) throw new Error(`it has ${found.size} bytes, expected at most ${LARGEST}`)
    return readFileSync(descriptor, 'utf8')
  } finally {
    closeSync(descriptor)
  }
}
