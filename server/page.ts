import { constants, setPriority } from 'node:os'
import { systemClock as clock } from './clock.ts'
import { type ConsoleLog, openConsoleLog } from './consoleLog.ts'
import { dataFolderOf } from './demo.ts'
import { createLaneReader } from './history/lane/laneReader.ts'
import { keepHeapSmall } from './keepHeapSmall.ts'
import type { LogFormat } from './log.ts'
import { type RunningPage, runPage } from './runPage.ts'
import { openPeople, readState } from './state/openState.ts'

/**
 * The page side as a process of its own, started by the watch (launchPage.ts). It ends with the watch, whichever way that
 * ends; signals to the whole group are the watch's to answer.
 */
function run({ tell, queue }: ConsoleLog): RunningPage {
  let close = () => {}
  return runPage({
    open(options) {
      const folder = dataFolderOf(options).path
      const people = openPeople(folder)
      const watched = readState(folder)
      const history = createLaneReader(options.historyLane, clock)
      close = () => {
        people.close()
        watched.close()
        history.close()
      }
      return { clock, options, people, watched, history, historyQueue: history.queue, tell, logQueue: queue }
    },
    post: (message) => void (process.connected && process.send!(message)),
    onClosed() {
      close()
      process.disconnect()
    },
  })
}

process.on('SIGINT', () => {})
process.on('SIGTERM', () => {})
process.on('disconnect', () => process.exit(0))
// where both want the processor, the watch goes first
setPriority(constants.priority.PRIORITY_BELOW_NORMAL)
keepHeapSmall()
const log = openConsoleLog('page side', process.argv[2] as LogFormat)
process.on('uncaughtException', (error) => {
  log.tell('The page side ends because of a fault that nothing handled', 'error', error)
  process.exit(1)
})
process.on('message', run(log).take)
