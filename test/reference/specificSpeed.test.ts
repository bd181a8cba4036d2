import { describe } from 'vitest'
import {
  dischargeAtHead,
  powerAtHead,
  powerSpecificSpeed,
  similarDischarge,
  similarPower,
  similarSpeed,
  specificSpeedByDischarge,
  specificSpeedByEnergy,
  specificSpeedByHorsepower,
  specificSpeedByPower,
  speedAtHead,
  unitDischarge,
  unitPower,
  unitSpeed,
} from '../../server/physics/index.ts'
import { checkEach, rpm } from './check.ts'

const G = 9.81
const KUMAR = (example: string) =>
  `Shiv Kumar, Fluid Systems, Ex. ${example}, read in a transcription, recomputed`
const GORLA = (example: string) =>
  `Gorla & Khan, Turbomachinery, Ex. ${example}, read in a transcription, recomputed`
const FIVE3 = 'worked number 5.3, computed for the project'

describe('specific speed', () => {
  const n = rpm(750)
  checkEach([
    { what: 'n_q', source: FIVE3, got: () => specificSpeedByDischarge(n, 0.05, 60), want: 7.779162 },
    {
      what: 'n_q over n_QE at g 9.81',
      source: FIVE3,
      got: () => specificSpeedByDischarge(n, 0.05, 60) / specificSpeedByEnergy(n, 0.05, 60, G),
      want: 332.5853,
    },
    {
      what: 'n_q over n_QE at standard gravity',
      source: FIVE3,
      got: () => specificSpeedByDischarge(n, 0.05, 60) / specificSpeedByEnergy(n, 0.05, 60, 9.80665),
      want: 332.5001,
    },
    { what: 'n_QE', source: FIVE3, got: () => specificSpeedByEnergy(n, 0.05, 60, G), want: 0.02338998 },
    {
      what: 'n_s by kilowatts',
      source: FIVE3,
      got: () => specificSpeedByPower(n, 23544, 60),
      want: 21.792764,
    },
    {
      what: 'n_s by metric horsepower',
      source: FIVE3,
      got: () => specificSpeedByHorsepower(n, 23544, 60),
      want: 25.410977,
    },
    {
      what: 'n_s by metric horsepower over kilowatts',
      source: FIVE3,
      got: () => specificSpeedByHorsepower(n, 23544, 60) / specificSpeedByPower(n, 23544, 60),
      want: 1.1660281,
      within: 1e-7,
    },
    {
      what: 'n_s of 8000 kW at 30 m',
      source: KUMAR('7.1'),
      got: () => specificSpeedByPower(rpm(140), 8e6, 30),
      want: 178.3493,
    },
    {
      what: 'n_s of 2472 kW at 28 m',
      source: KUMAR('7.2'),
      got: () => specificSpeedByPower(rpm(225), 2472.12e3, 28),
      want: 173.688,
    },
    {
      what: 'dimensionless power specific speed',
      source: GORLA('3.2'),
      got: () => powerSpecificSpeed(rpm(725), 25902.32, 92, 1000, G),
      want: 0.0781115,
    },
    {
      what: 'dimensionless power specific speed over n_s',
      source: 'unit conversion π/30/g^1.25 at 1000 kg/m³, hand calculation',
      got: () => powerSpecificSpeed(n, 23544, 60, 1000, G) / specificSpeedByPower(n, 23544, 60),
      want: Math.PI / 30 / 9.81 ** 1.25,
    },
    { what: 'unit speed', source: FIVE3, got: () => unitSpeed(n, 0.4, 60), want: 38.729833 },
    { what: 'unit discharge', source: FIVE3, got: () => unitDischarge(0.05, 0.4, 60), want: 0.04034358 },
    { what: 'unit power', source: FIVE3, got: () => unitPower(23544, 0.4, 60), want: 0.31661639 },
    {
      what: 'n_s from unit values n₁₁·√P₁₁',
      source: FIVE3,
      got: () => unitSpeed(n, 0.4, 60) * Math.sqrt(unitPower(23544, 0.4, 60)),
      want: 21.792764,
    },
    {
      what: 'n_q from unit values n₁₁·√Q₁₁',
      source: FIVE3,
      got: () => unitSpeed(n, 0.4, 60) * Math.sqrt(unitDischarge(0.05, 0.4, 60)),
      want: 7.779162,
    },
  ])
})

describe('affinity', () => {
  checkEach([
    {
      what: 'power from 32 to 25 m',
      source: KUMAR('7.6'),
      got: () => powerAtHead(8500e3, 32, 25),
      want: 5869.539e3,
    },
    {
      what: 'speed from 32 to 25 m',
      source: KUMAR('7.6'),
      got: () => speedAtHead(120, 32, 25),
      want: 106.066,
    },
    {
      what: 'speed from 25 to 20 m',
      source: KUMAR('7.9'),
      got: () => speedAtHead(200, 25, 20),
      want: 178.8854,
    },
    {
      what: 'discharge from 25 to 20 m',
      source: KUMAR('7.9'),
      got: () => dischargeAtHead(9, 25, 20),
      want: 8.049845,
    },
    {
      what: 'discharge unchanged at the same head',
      source: 'definition',
      got: () => dischargeAtHead(9, 25, 25),
      want: 9,
    },
    {
      what: 'power from 25 to 20 m',
      source: KUMAR('7.9'),
      got: () => powerAtHead(1986.525e3, 25, 20),
      want: 1421.442e3,
    },
    {
      what: 'speed of the prototype',
      source: KUMAR('7.12'),
      got: () => similarSpeed(410, 5, 5),
      want: 183.3576,
    },
    {
      what: 'power of the prototype',
      source: KUMAR('7.12'),
      got: () => similarPower(22, 5, 5),
      want: 6149.187,
    },
    {
      what: 'discharge of the prototype',
      source: KUMAR('7.12'),
      got: () => similarDischarge(0.3203728, 5, 5),
      want: 17.90938,
    },
    {
      what: 'speed of a similar machine of equal size',
      source: KUMAR('7.9'),
      got: () => similarSpeed(200, 20 / 25, 1),
      want: 178.8854,
    },
    {
      what: 'discharge of a similar machine of equal size',
      source: KUMAR('7.9'),
      got: () => similarDischarge(9, 20 / 25, 1),
      want: 8.049845,
    },
    {
      what: 'power of a similar machine of equal size',
      source: KUMAR('7.9'),
      got: () => similarPower(1986.525, 20 / 25, 1),
      want: 1421.442,
    },
  ])
})
