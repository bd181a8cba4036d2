import Connection from 'libsql/promise'

/**
 * Brings what was committed from the write-ahead log into its file, in a thread of the database's own: a checkpoint waits
 * for the disk (fsync), and inside a commit the event loop would wait with it, an over-speed message among the rest.
 * What was committed meanwhile waits for nobody (SQLite: WAL, passive checkpoints).
 */
export interface Checkpoints {
  /** Something was committed. */
  committed(): void
  close(): void
}

/** At most this often [ms]; what a loss of power can take from the file is about as young. */
const PAUSE_MS = 5000

/** Pages in the log [4 kB each] after which a commit does it itself: only where the thread does not come to it. */
export const COMMIT_CHECKPOINTS_AT = 8000

export function createCheckpoints(file: string, pauseMs = PAUSE_MS): Checkpoints {
  const connection = new Connection(file, {})
  let isUnderWay = false
  let endedAt = performance.now()

  function ended(): void {
    isUnderWay = false
    endedAt = performance.now()
  }

  return {
    committed() {
      if (isUnderWay || performance.now() - endedAt < pauseMs) return
      isUnderWay = true
      // A disk that refuses it is told by the commits, which need its room too.
      connection.exec('PRAGMA wal_checkpoint(PASSIVE)').then(ended, ended)
    },
    close: () => void connection.close(),
  }
}
