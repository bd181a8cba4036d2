import type { Quantity } from '../quantity.ts'

export const weirFlow: Quantity = {
  id: 'weirFlow',
  name: 'Flow over the weir',
  symbol: 'Q_w',
  unit: 'm3/s',
  view: 'L/s',
  group: 'water',
  ways: [
    {
      formula: 'rectangularWeir(h, p, b, B, g)',
      inputs: { h: 'weirHead', g: 'gravity' },
      constants: { p: 'weir.crestHeight', b: 'weir.crestWidth', B: 'weir.channelWidth' },
      valid: [{ test: 'h > 0', otherwise: 'no water over the crest' }],
      source: 'ISO 1438, Kindsvater–Carter',
    },

    {
      formula: 'vNotch(h, theta, g)',
      inputs: { h: 'weirHead', g: 'gravity' },
      constants: { theta: 'weir.notchAngle' },
      valid: [{ test: 'h > 0', otherwise: 'no water over the crest' }],
      source: 'ISO 1438, Kindsvater–Shen',
    },
  ],
}
