import { aboveShare, type Quantity } from '../quantity.ts'
import { aboveRatedWater, stageLoss } from './stages.ts'

/** What is left of the power from stage to stage, and what is lost there. */
export const efficiency: readonly Quantity[] = [
  {
    id: 'turbineEfficiency',
    name: 'Turbine efficiency',
    symbol: 'η_t',
    unit: '1',
    view: '%',
    group: 'efficiency',
    steady: ['rotor', 'water'],
    ways: [
      {
        formula: 'P_s / (P_h * eta_d)',
        inputs: { P_s: 'shaftPower', P_h: 'hydraulicPower', rho: 'waterDensity', g: 'gravity' },
        constants: { eta_d: 'turbine.driveEfficiency' },
        valid: [
          aboveRatedWater('P_h', 'hydraulic power'),
          { test: 'P_h > 0', otherwise: 'no hydraulic power' },
        ],
        possible: { low: 0, high: 1, suspects: 'discharge, head, torque or power' },
        source: 'IEC 60041: shaft power over hydraulic power; eta_d is the drive between turbine and shaft',
      },
    ],
  },
  stageLoss({
    id: 'turbineLoss',
    name: 'Loss of nozzles and runner',
    symbol: 'P_vt',
    formula: 'P_h - P_s',
    inputs: { P_h: 'hydraulicPower', P_s: 'shaftPower' },
    suspects: 'flow, pressure or torque',
  }),
  {
    id: 'generatorEfficiency',
    name: 'Generator efficiency',
    symbol: 'η_g',
    unit: '1',
    view: '%',
    group: 'efficiency',
    steady: ['rotor'],
    ways: [
      {
        formula: 'P / (T * omega)',
        inputs: { P: 'activePower', T: 'torque', omega: 'speed' },
        valid: [
          aboveShare(0.02, { 'T * omega': 'shaft power' }, { P_r: 'generator.ratedPower' }),
          { test: 'T * omega > 0', otherwise: 'no shaft power' },
        ],
        possible: { low: 0, high: 1, suspects: 'torque, speed or power' },
        source: 'definition: electrical power over shaft power',
      },
    ],
  },
  stageLoss({
    id: 'generatorLoss',
    name: 'Loss of the generator',
    symbol: 'P_vg',
    formula: 'P_s - P',
    inputs: { P_s: 'shaftPower', P: 'activePower' },
    suspects: 'torque or power',
  }),
  {
    id: 'waterToWireEfficiency',
    name: 'Water-to-wire efficiency',
    symbol: 'η_w',
    unit: '1',
    view: '%',
    group: 'efficiency',
    steady: ['rotor', 'water'],
    ways: [
      {
        formula: 'P / P_h',
        inputs: { P: 'activePower', P_h: 'hydraulicPower', rho: 'waterDensity', g: 'gravity' },
        valid: [
          aboveRatedWater('P_h', 'hydraulic power'),
          { test: 'P_h > 0', otherwise: 'no hydraulic power' },
        ],
        possible: { low: 0, high: 1, suspects: 'discharge, head or power' },
        source: 'definition: generator terminals over hydraulic power at net head',
      },
    ],
  },
  {
    id: 'pipeLoss',
    name: 'Head lost from pump to manifold',
    symbol: 'h_p',
    unit: 'm',
    group: 'head',
    steady: ['water'],
    ways: [
      {
        formula: '(p_d - p) / (rho * g) + z_d - z_p',
        inputs: { p_d: 'pumpOutletPressure', p: 'inletPressure', rho: 'waterDensity', g: 'gravity' },
        constants: { z_d: 'site.elevations.pumpGauge', z_p: 'site.elevations.inletGauge' },
        source: 'energy equation between two gauges in pipes of equal bore',
      },
    ],
  },
  {
    id: 'plantEfficiency',
    name: 'Efficiency of the whole plant, at gross head',
    symbol: 'η_p',
    unit: '1',
    view: '%',
    group: 'efficiency',
    steady: ['rotor', 'water'],
    ways: [
      {
        formula: 'P / P_g',
        inputs: { P: 'activePower', P_g: 'availablePower', rho: 'waterDensity', g: 'gravity' },
        valid: [
          aboveRatedWater('P_g', 'the power of the water'),
          { test: 'P_g > 0', otherwise: 'no power in the water' },
        ],
        possible: { low: 0, high: 1, suspects: 'discharge, levels or power' },
        source: 'definition: generator terminals over ρgQH at gross head, so with the losses of the penstock',
      },
    ],
  },
]
