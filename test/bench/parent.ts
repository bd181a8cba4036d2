import type { Note } from './child.ts'

/** The other end of child.ts: what a child uses to speak with the harness. */
export function tellParent(note: Note): void {
  process.send?.(note)
}

export function onParent<T extends Note>(type: T['type'], act: (note: T) => void): void {
  process.on('message', (note: T) => {
    if (note.type === type) act(note)
  })
}

/** Wall clock with sub-millisecond steps [ms UTC], comparable between the processes of one machine. */
export function preciseNow(): number {
  return performance.timeOrigin + performance.now()
}
