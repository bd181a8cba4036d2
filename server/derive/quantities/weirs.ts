import type { Amount, FigureRecord } from '../quantity.ts'

const metres = (value: number, path: string): Amount => ({ value, unit: 'm', path })

/** Flow over measuring weirs; limits of ISO 1438 from memory; the least head over a notch, 0.2 ft, is also that of the USBR manual, chapter 7 (read). */
export const weirs: readonly FigureRecord[] = [
  {
    id: 'weirFlow',
    name: 'Flow over the weir',
    symbol: 'Q_w',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    ways: [
      {
        formula: 'h > 0 ? k_w * rectangularWeir(h, p, b, B, g) : 0',
        inputs: { h: 'weirHead', g: 'gravity' },
        constants: {
          p: 'weir.crestHeight',
          b: 'weir.crestWidth',
          B: 'weir.channelWidth',
          k_w: 'weir.calibrationFactor',
        },
        amounts: {
          h_1: metres(0.03, 'least head, ISO 1438'),
          p_1: metres(0.1, 'least height of the crest, ISO 1438'),
          b_1: metres(0.15, 'least width of the crest, ISO 1438'),
          b_2: metres(0.1, 'least contraction of a side, ISO 1438'),
        },
        limits: [
          { test: 'h <= 0 or h >= h_1', otherwise: 'outside ISO 1438: the head is below 0.03 m' },
          {
            test: 'h <= 2.5 * p',
            otherwise: 'outside ISO 1438: the head is above 2.5 times the crest height',
          },
          { test: 'p >= p_1', otherwise: 'outside ISO 1438: the crest is below 0.10 m over the floor' },
          { test: 'b >= b_1', otherwise: 'outside ISO 1438: the crest is narrower than 0.15 m' },
          {
            test: 'b >= 0.999 * B or (B - b) / 2 >= b_2',
            otherwise: 'outside ISO 1438: the contraction at each side is neither none nor at least 0.10 m',
          },
        ],
        source: 'ISO 1438, Kindsvater–Carter; nothing flows while the water is not above the crest',
      },
      {
        formula: 'h > 0 ? k_w * vNotch(h, theta, g) : 0',
        inputs: { h: 'weirHead', g: 'gravity' },
        constants: { theta: 'weir.notchAngle', k_w: 'weir.calibrationFactor' },
        amounts: {
          h_1: metres(0.06, 'least head, ISO 1438'),
          h_2: metres(0.38, 'greatest head, ISO 1438'),
          p_1: metres(0.45, 'least height of a fully contracted notch, ISO 1438'),
          B_1: metres(0.9, 'least channel of a fully contracted notch, ISO 1438'),
        },
        limits: [
          {
            test: 'h <= 0 or h >= h_1',
            otherwise: 'outside ISO 1438: the head over the notch is below 0.06 m',
          },
          { test: 'h <= h_2', otherwise: 'outside ISO 1438: the head over the notch is above 0.38 m' },
          {
            test: 'theta >= pi / 9 and theta <= 5 * pi / 9',
            otherwise: 'outside ISO 1438: the angle of the notch is not 20° to 100°',
          },
          {
            test: 'h <= 0.4 * p and p >= p_1',
            constants: { p: 'weir.crestHeight' },
            otherwise:
              'outside ISO 1438 for a fully contracted notch: it is not 0.45 m and 2.5 heads over the floor',
          },
          {
            test: 'h <= 0.2 * B and B >= B_1',
            constants: { B: 'weir.channelWidth' },
            otherwise:
              'outside ISO 1438 for a fully contracted notch: the channel is not 0.90 m and 5 heads wide',
          },
        ],
        source:
          'Kulin and Compton 1975, fit over the angle to Kindsvater–Shen (ISO 1438); nothing flows while the water is not above the notch',
      },
    ],
  },
]
