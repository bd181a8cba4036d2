import { createTrialThread, type TrialThread } from '../../server/trials/trialThread.ts'

/** One for all that runs in this process: each takes seconds to start from the sources. It ends with the process. */
export const trialThread: TrialThread = { ...createTrialThread(), close: async () => {} }
