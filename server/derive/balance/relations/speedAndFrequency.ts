import { isSynchronous } from '../../quantity.ts'
import { relation } from '../relation.ts'

export const speedAndFrequency = relation({
  id: 'frequencyGap',
  name: 'Speed and frequency',
  symbol: 'Δf',
  unit: 'Hz',
  view: 'Hz',
  expected: 'omega * z_p / (2 * pi)',
  measured: 'f',
  inputs: { omega: 'speed', f: 'frequency' },
  constants: { z_p: 'generator.polePairs' },
  needs: ['speed', 'frequency'],
  applies: isSynchronous,
  valid: [{ test: 'f > 0', otherwise: 'no frequency' }],
  share: 0.0002,
  assumes: 'the number of pole pairs',
  source: 'f = n·p/60, p pole pairs',
})
