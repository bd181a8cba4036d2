import { randomBytes } from 'node:crypto'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'

/** Where the answers of history are to be had, and the key that opens it: plain data. */
export interface LaneAddress {
  /** Sockets of this machine; both ends try them in this order. */
  paths: readonly string[]
  /** Hexadecimal, another one with each start. Whoever does not show it is told nothing. */
  key: string
}

/** A socket in a file has a name of 104 bytes at most, on some systems; longer ones would be cut short without a word. */
const LONGEST_PATH = 100

/** A lane of the history in `folder`; where that cannot hold a socket, in the folder for temporary files. */
export function laneIn(folder: string): LaneAddress {
  const key = randomBytes(32).toString('hex')
  const name = `headrace-${randomBytes(8).toString('hex')}`
  if (process.platform === 'win32') return { paths: [`\\\\.\\pipe\\${name}`], key }
  const paths = [join(resolve(folder), 'lane.sock'), join(tmpdir(), `${name}.sock`)]
  return { paths: paths.filter((path) => Buffer.byteLength(path) <= LONGEST_PATH), key }
}
