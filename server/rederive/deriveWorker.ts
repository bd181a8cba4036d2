import { parentPort, workerData } from 'node:worker_threads'
import { systemClock } from '../clock.ts'
import type { LaneAddress } from '../history/lane/address.ts'
import { createLaneReader } from '../history/lane/laneReader.ts'
import type { Rewrite } from '../history/store.ts'
import type { FromDeriver, ToDeriver } from './deriver.ts'
import { deriveSpan } from './deriveSpan.ts'

/** The thread in which a span is derived anew: two hours of readings must not hold up those of now. */
const port = parentPort!
const history = createLaneReader(workerData as LaneAddress, systemClock)
/** Takes the answer to the piece that was sent. */
let settle = (_refused?: string): void => {}

function write(change: Rewrite): Promise<void> {
  return new Promise((resolve, reject) => {
    settle = (refused) => (refused === undefined ? resolve() : reject(new Error(refused)))
    post({ change })
  })
}

const post = (message: FromDeriver) => port.postMessage(message)

port.on('message', (message: ToDeriver) => {
  if ('written' in message) settle()
  else if ('refused' in message) settle(message.refused)
  else
    deriveSpan(message.task, history, write).then(
      (derived) => post({ derived }),
      (error: unknown) => post({ failed: error instanceof Error ? error.message : String(error) }),
    )
})
