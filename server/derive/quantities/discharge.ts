import type { FigureRecord } from '../quantity.ts'
import { FLOW } from './beliefs.ts'
import { WATER } from './place.ts'

/** Water through the machine and past it. */
export const discharge: readonly FigureRecord[] = [
  {
    id: 'discharge',
    likely: FLOW,
    name: 'Discharge',
    symbol: 'Q',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    ways: [
      {
        formula: 'Q_m',
        inputs: { Q_m: 'meterFlow' },
        source: 'the flow meter of the turbine pipe',
      },
      {
        formula: 'Q_i',
        inputs: { Q_i: 'indexFlow' },
        source: 'the taps of the spiral case, from one point where the discharge was measured otherwise',
      },
      {
        formula: 'C * idealJetFlow(d, p / (rho * g) + (z_p - z_t), g) / sqrt(1 - (C * d^2 / D^2)^2)',
        inputs: { C: 'nozzleCoefficient', p: 'inletPressure', ...WATER },
        constants: {
          d: 'turbine.nozzleBore',
          D: 'turbine.inletBore',
          z_p: 'site.elevations.inletGauge',
          z_t: 'site.elevations.turbine',
        },
        estimated: 'from the nozzle law; no flow is measured',
        source: 'nozzle law at the net head, whose velocity head (Q/A)²/(2g) follows from the same discharge',
      },
      {
        formula: 'C * idealJetFlow(d, p / (rho * g) + (z_p - z_t), g)',
        inputs: { C: 'nozzleCoefficient', p: 'inletPressure', ...WATER },
        constants: {
          d: 'turbine.nozzleBore',
          z_p: 'site.elevations.inletGauge',
          z_t: 'site.elevations.turbine',
        },
        estimated:
          'from the nozzle law; no flow is measured, and the velocity head is left out as the plant file gives no turbine.inletBore',
        source: 'nozzle law at the net head without its velocity head',
      },
      {
        formula: 'C * idealJetFlow(d, p / (rho * g), g)',
        inputs: { C: 'nozzleCoefficient', p: 'inletPressure', ...WATER },
        constants: { d: 'turbine.nozzleBore' },
        estimated:
          'from the nozzle law; no flow is measured, and gauge elevation and velocity head are left out as the plant file gives neither',
        source: 'nozzle law Q = Cd·A·√(2p/ρ)',
      },
    ],
  },
  {
    id: 'licenceShare',
    name: 'Discharge over what the licence allows',
    symbol: 's_l',
    unit: '1',
    view: '%',
    group: 'water',
    formula: 'Q / Q_l',
    inputs: { Q: 'discharge' },
    constants: { Q_l: 'licence.maximumDischarge' },
    source: 'definition',
  },
]
