import { describe, expect, it } from 'vitest'
import {
  mechanicalStartTime,
  runawayRatio,
  runawaySpeed,
  stallTorque,
  torqueAtSpeed,
} from '../../server/physics/index.ts'
import { checkEach, rpm } from './check.ts'

const RIG = 'Quennerby data sheet, fictional rig, computed by an independent script'

describe('torque over speed', () => {
  checkEach([
    {
      what: 'runaway over best speed with exponent 1.5',
      source: `${RIG}, 1.842`,
      got: () => runawayRatio(1.5),
      want: 1.842,
      plusMinus: 5e-4,
    },
    {
      what: 'runaway over best speed of the straight line',
      source: 'theory',
      got: () => runawayRatio(1),
      want: 2,
    },
    {
      what: 'stall torque of the rig',
      source: `${RIG}, 6.29 N·m`,
      got: () => stallTorque(3.775, rpm(1500), rpm(2763), 1.5),
      want: 6.29,
      plusMinus: 0.005,
    },
    {
      what: 'stall over best torque',
      source: `${RIG}, 1.667`,
      got: () => stallTorque(1, 1, runawayRatio(1.5), 1.5),
      want: 1.667,
      plusMinus: 5e-4,
    },
    {
      what: 'torque of the rig at 1500 min⁻¹',
      source: `${RIG}, 3.775 N·m`,
      got: () => torqueAtSpeed(6.29, rpm(1500), rpm(2763), 1.5),
      want: 3.775,
      plusMinus: 0.005,
    },
    {
      what: 'torque of the rig at 1800 min⁻¹',
      source: `${RIG}, 2.98 N·m`,
      got: () => torqueAtSpeed(6.29, rpm(1800), rpm(2763), 1.5),
      want: 2.98,
      plusMinus: 0.005,
    },
    {
      what: 'runaway speed of the rig in rad/s',
      source: `${RIG}, 2763 min⁻¹`,
      got: () => runawaySpeed(6.29, 3.775, rpm(1500), 1.5),
      want: rpm(2763),
      within: 1e-3,
    },
    {
      what: 'runaway speed on the straight line from half torque at half speed',
      source: 'theory',
      got: () => runawaySpeed(2, 1, 100, 1),
      want: 200,
    },
    {
      what: 'mechanical start time of 1.2 kg·m² on 16.67 kW',
      source: 'Ostrelby data sheet, fictional site, 1.78 s',
      got: () => mechanicalStartTime(1.2, rpm(1500), 16667),
      want: 1.78,
      plusMinus: 0.005,
    },
    {
      what: 'mechanical start time of the rig from its rejection to 110 % in 0.088 s',
      source: `${RIG}: 0.1·T_m within the torque law's fall of 5 %`,
      got: () => 0.1 * mechanicalStartTime(0.02, rpm(1500), 593),
      want: 0.088,
      within: 0.08,
    },
  ])
  it('lies inside the published Pelton runaway range 1.8–1.9 (ESHA 2004, from memory)', () => {
    expect(runawayRatio(1.5)).toBeGreaterThan(1.8)
    expect(runawayRatio(1.5)).toBeLessThan(1.9)
  })
  it('tells nothing from a point at runaway, or from a torque above stall', () => {
    expect([stallTorque(0, 10, 10, 1.5), runawaySpeed(1, 2, 10, 1.5)]).toEqual([NaN, NaN])
  })
})
