import { type FigureRecord, isMeasured } from '../quantity.ts'
import { WATER } from './place.ts'
import { stageLoss } from './stages.ts'

/** The pump of a rig. */
export const pump: readonly FigureRecord[] = [
  {
    id: 'pumpHead',
    name: 'Pump head',
    symbol: 'H_p',
    unit: 'm',
    group: 'pump',
    ways: [
      {
        formula: '(p_d - p_s) / (rho * g) + z + (meanVelocity(Q, D_d)^2 - meanVelocity(Q, D_s)^2) / (2 * g)',
        inputs: { p_d: 'pumpOutletPressure', p_s: 'pumpInletPressure', Q: 'discharge', ...WATER },
        constants: { z: 'pump.gaugeRise', D_d: 'pump.outletBore', D_s: 'pump.inletBore' },
        source: 'ISO 9906, pump total head',
      },
      {
        formula: 'p_d / (rho * g) + z - z_su + meanVelocity(Q, D_d)^2 / (2 * g)',
        inputs: { p_d: 'pumpOutletPressure', z_su: 'sumpLevel', Q: 'discharge', ...WATER },
        constants: { z: 'pump.gaugeRise', D_d: 'pump.outletBore' },
        applies: (plant) => !isMeasured(plant, 'pumpInletPressure'),
        estimated: 'from the water level in the sump: losses before the pump are left out',
        source: 'ISO 9906, pump total head, with the sump as inlet',
      },
      {
        formula: '(p_d - p_s) / (rho * g)',
        inputs: { p_d: 'pumpOutletPressure', p_s: 'pumpInletPressure', ...WATER },
        estimated: 'the difference of gauge elevation and velocity head across the pump is left out',
        source: 'ISO 9906, pump total head',
      },
    ],
  },
  {
    id: 'pumpHydraulicPower',
    name: 'Pump hydraulic power',
    symbol: 'P_hp',
    unit: 'W',
    group: 'pump',
    formula: 'rho * g * Q * H_p',
    inputs: { ...WATER, Q: 'discharge', H_p: 'pumpHead' },
    source: 'ISO 9906, pump power output',
  },
  stageLoss({
    id: 'pumpSetLoss',
    name: 'Loss of pump, drive and pipe',
    symbol: 'P_vp',
    formula: 'P_m - P_h',
    inputs: { P_m: 'pumpInputPower', P_h: 'hydraulicPower' },
    suspects: 'pump power, flow or pressure',
  }),
  {
    id: 'pumpEfficiency',
    name: 'Pump and drive efficiency',
    symbol: 'η_m',
    unit: '1',
    view: '%',
    group: 'pump',
    steady: ['water'],
    formula: 'P_hp / P_m',
    inputs: { P_hp: 'pumpHydraulicPower', P_m: 'pumpInputPower', ...WATER },
    valid: [
      {
        test: 'P_hp > 0.05 * rho * g * Q_r * H_r',
        constants: { Q_r: 'pump.ratedDischarge', H_r: 'pump.ratedHead' },
        otherwise: 'the pump delivers less than 5 % of rated',
      },
      { test: 'P_m > 0', otherwise: 'the pump does not run' },
    ],
    possible: { low: 0, high: 1, suspects: 'pump pressures, discharge or pump input' },
    source: 'definition: pump hydraulic power over mains input',
  },
  {
    id: 'modelledPumpHead',
    name: 'Pump head by its curve',
    symbol: 'H_pm',
    unit: 'm',
    group: 'pump',
    background: true,
    formula: 's^2 * H_r * headCurve(Q / (s * Q_r))',
    inputs: { s: 'pumpSpeed', Q: 'discharge' },
    constants: { H_r: 'pump.ratedHead', Q_r: 'pump.ratedDischarge' },
    curves: { headCurve: 'pump.headCurve' },
    applies: (plant) => plant.pump !== undefined,
    valid: [{ test: 's > 0.2', otherwise: 'pump speed is below 20 %' }],
    source: 'curve of the plant file with the affinity laws, Q ∝ n and H ∝ n²',
  },
]
