import { hasFixedNozzles } from '../../derive/quantity.ts'
import type { Plant } from '../../plant/plant.ts'
import { belowOne, fallsTowardsLess, repeatsAgree } from '../checks/pointChecks.ts'
import { turbineTheory } from '../theory/theories.ts'
import type { PointTrial } from '../trial.ts'

export const efficiencyDischarge: PointTrial = {
  id: 'efficiencyDischarge',
  takes: 'points',
  name: 'Turbine: efficiency over discharge',
  aim: 'At which discharge the turbine makes the most of the water at constant head, and how much it loses away from there.',
  abscissa: 'discharge',
  ordinate: 'turbineEfficiency',
  hold: [
    {
      figure: 'netHead',
      target: ['turbine.ratedNetHead'],
      tolerance: 0.02,
      low: 'raise the pump speed, or let less water through until the head recovers',
      high: 'lower the pump speed, or take more water',
    },
    {
      figure: 'speed',
      target: ['generator.ratedSpeed', 'turbine.ratedSpeed'],
      tolerance: 0.01,
      low: 'reduce the load on the shaft',
      high: 'add load to the shaft',
    },
  ],
  by: (plant) => (hasFixedNozzles(plant) ? 'opening and closing jets' : 'jets, needles or guide vanes'),
  suggest: { reference: 'turbine.ratedDischarge', shares: sharesOf, isStepped: hasFixedNozzles },
  unit: { abscissa: 'unitDischarge', ordinate: 'turbineEfficiency' },
  record: [
    'netHead',
    'speed',
    'shaftPower',
    'hydraulicPower',
    'torque',
    'activePower',
    'waterToWireEfficiency',
  ],
  steady: { netHead: 0.01, discharge: 0.015, speed: 0.005, turbineEfficiency: 0.015 },
  fits: [{ model: 'smooth', best: true }],
  theory: turbineTheory,
  cautions: [
    {
      signal: 'DANGER',
      text: 'Keep guards closed and stay out of the plane of runner and coupling.',
    },
    {
      signal: 'WARNING',
      text: 'A jet under pressure injures eyes and skin. Release the pressure before opening any joint.',
    },
  ],
  method: [
    'Set the head and the speed, then start with the smallest discharge.',
    'Step the discharge up; bring head and speed back after each step and wait for the point to store itself.',
    'Take two or three points near the best one, and repeat every setting once on the way back.',
  ],
  checks: [
    {
      id: 'fallsTowardsLess',
      text: 'The curve is flat near its top and falls towards small discharge.',
      rule: fallsTowardsLess,
    },
    { id: 'belowOne', text: 'No efficiency is above 1; small wheels reach 0.5 to 0.7.', rule: belowOne },
    { id: 'repeats', text: 'Repeated settings agree within their bars.', rule: repeatsAgree },
  ],
}

/** Fixed jets are open or shut; everything else can be set in steps. */
function sharesOf(plant: Plant): number[] {
  const jets = plant.turbine?.jets
  if (jets === undefined || !hasFixedNozzles(plant)) return [0.25, 0.4, 0.55, 0.7, 0.85, 1]
  return Array.from({ length: jets }, (_, i) => (i + 1) / jets)
}
