import type { RunFindings, TrialResult } from '../../wire/trial.ts'

/** In the place of what points say, for trials that record traces. */
export const NO_CURVE: TrialResult = { isFitted: false, lacking: 'This trial records traces.' }
export const NO_FINDINGS: RunFindings = {
  series: [],
  comparison: null,
  further: [],
  balance: null,
  checks: [],
}
