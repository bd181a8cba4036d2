import { aboveShare, isInduction, isSynchronous, type Quantity } from '../quantity.ts'

/** Speed and frequency. */
export const speed: readonly Quantity[] = [
  {
    id: 'speed',
    name: 'Speed',
    symbol: 'n',
    unit: 'rad/s',
    view: '/min',
    group: 'machine',
    ways: [
      {
        formula: '2 * pi * f / z_p',
        inputs: { f: 'frequency' },
        constants: { z_p: 'generator.polePairs' },
        applies: isSynchronous,
        source: 'f = n·p/60, p pole pairs',
      },
    ],
  },
  {
    id: 'turbineSpeed',
    name: 'Turbine speed',
    symbol: 'n_t',
    unit: 'rad/s',
    view: '/min',
    group: 'machine',
    ways: [
      {
        formula: 'omega / r',
        inputs: { omega: 'speed' },
        constants: { r: 'turbine.driveRatio' },
        source: 'speed of the generator over the ratio of the drive',
      },
    ],
  },
  {
    id: 'frequency',
    name: 'Electrical frequency',
    symbol: 'f',
    unit: 'Hz',
    group: 'electrical',
    ways: [
      {
        formula: 'omega * z_p / (2 * pi)',
        inputs: { omega: 'speed' },
        constants: { z_p: 'generator.polePairs' },
        applies: isSynchronous,
        source: 'f = n·p/60, p pole pairs',
      },
    ],
  },
  {
    id: 'slip',
    name: 'Slip',
    symbol: 's',
    unit: '1',
    view: '%',
    group: 'electrical',
    ways: [
      {
        formula: '(2 * pi * f / z_p - omega) / (2 * pi * f / z_p)',
        inputs: { f: 'frequency', omega: 'speed' },
        constants: { z_p: 'generator.polePairs' },
        applies: isInduction,
        valid: [
          aboveShare(0.2, { f: 'frequency' }, { f_r: 'generator.ratedFrequency' }),
          { test: 'f > 0', otherwise: 'no frequency' },
          aboveShare(0.2, { omega: 'speed' }, { omega_r: 'generator.ratedSpeed' }),
        ],
        source: 's = (n_s − n)/n_s, negative when generating',
      },
    ],
  },
]
