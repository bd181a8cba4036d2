import { GRID } from '../plants.ts'
import type { NastyRow } from '../row.ts'

/** What comes in another unit, or turned round, and yet lies within the range of its instrument. */
export const units: readonly NastyRow[] = [
  {
    when: 'the power comes in MW where the plant file says kW',
    plant: GRID,
    steps: [{ seconds: 20, sent: { power: '0.088' } }],
    says: {
      figures: {
        activePower: {
          quality: 'uncertain',
          value: 0.088,
          reason: /thousandth of volts times amperes: kW in place of W/,
        },
        powerFactor: { quality: 'uncertain', reason: /active power: is about a thousandth/ },
        waterToWireEfficiency: { quality: 'uncertain', reason: /thousandth/ },
        specificEnergy: { quality: 'uncertain', reason: /thousandth/ },
      },
      bad: [],
    },
  },
  {
    when: 'the speed comes in Hz where the plant file says /min',
    plant: GRID,
    steps: [{ seconds: 20, sent: { tacho: '16.87' } }],
    says: {
      figures: { speed: { quality: 'uncertain', value: 16.87, reason: /turns per second \(Hz\) came/ } },
    },
  },
  {
    when: 'the speed comes in rad/s where the plant file says /min',
    plant: GRID,
    steps: [{ seconds: 20, sent: { tacho: '105.98' } }],
    says: { figures: { speed: { quality: 'uncertain', value: 105.98, reason: /rad\/s came/ } } },
  },
  {
    when: 'the speed of the turbine comes for that of the generator',
    plant: GRID,
    steps: [{ seconds: 20, sent: { tacho: '355.6' } }],
    says: {
      figures: {
        speed: {
          quality: 'uncertain',
          value: 355.6,
          reason: /speed of the turbine came for that of the generator/,
        },
        slip: { quality: 'uncertain' },
      },
    },
  },
  {
    when: 'the frequency is that of a meter set to 60 Hz',
    plant: GRID,
    steps: [{ seconds: 20, sent: { frequency: '60' } }],
    says: {
      figures: {
        frequency: {
          quality: 'uncertain',
          value: 60,
          reason: /does not go with the speed and the pole pairs/,
        },
        slip: { quality: 'uncertain', value: 15.67, reason: /stays within 10 % of the speed/ },
      },
    },
    source: 'by hand: (1200 − 1012)/1200 with three pole pairs',
  },
  {
    when: 'the flow meter is turned round',
    plant: GRID,
    steps: [{ seconds: 20, sent: { flow: '-0.62' } }],
    says: {
      figures: {
        discharge: {
          quality: 'uncertain',
          value: -0.62,
          reason: /the water runs back: is the meter or its sign turned/,
        },
        hydraulicPower: { quality: 'uncertain', reason: /runs back/ },
      },
    },
  },
  {
    when: 'the pressure gauge shows more than the levels allow',
    plant: GRID,
    steps: [{ seconds: 20, sent: { pressure: '2.4' } }],
    says: {
      figures: {
        inletPressure: { quality: 'uncertain', reason: /more than the headwater above the gauge/ },
        netHead: { quality: 'uncertain', reason: /net head above gross head: check the pressure gauge/ },
        headLoss: { quality: 'uncertain', reason: /net head above gross head/ },
        waterToWireEfficiency: { quality: 'uncertain', reason: /above gross head/ },
      },
    },
  },
  {
    when: 'the headwater shows a level far below the machine',
    plant: { ...GRID, file: GRID.file.replace('headwaterZero: 60 m', 'headwaterZero: 30 m') },
    steps: [{ seconds: 20 }],
    says: { figures: { grossHead: { quality: 'uncertain', reason: /headwater stands below the machine/ } } },
  },
  {
    when: 'the power comes a tenth of what it is',
    plant: GRID,
    steps: [{ seconds: 20, sent: { power: '8.8' } }],
    says: {
      figures: {
        activePower: { quality: 'uncertain', value: 8.8, reason: /is about a tenth of volts times amperes/ },
        waterToWireEfficiency: { quality: 'uncertain', reason: /a tenth/ },
      },
    },
  },
]
