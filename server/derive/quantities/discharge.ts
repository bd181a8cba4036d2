import type { FigureRecord } from '../quantity.ts'
import { WATER } from './place.ts'

/** Meters and lines at rest are off by less (common practice, no source). */
const NO_PRESSURE = { value: 100, unit: 'Pa', path: 'what a meter at rest may show' }

/** Water through the machine and past it. */
export const discharge: readonly FigureRecord[] = [
  {
    id: 'meterFlow',
    name: 'Flow by the differential pressure meter',
    symbol: 'Q_m',
    unit: 'm3/s',
    view: 'L/s',
    group: 'water',
    formula: 'dp > 0 ? k_m * orificeCornerTaps(dp, d, D, rho, nu * rho) : 0',
    inputs: { dp: 'meterPressureDifference', rho: 'waterDensity', nu: 'kinematicViscosity' },
    constants: { d: 'orifice.bore', D: 'orifice.pipeBore', k_m: 'orifice.calibrationFactor' },
    amounts: { dp_0: NO_PRESSURE },
    valid: [
      {
        test: 'dp > -dp_0',
        otherwise: 'its differential pressure is negative: the water runs back, or its lines are swapped',
        isFault: true,
      },
    ],
    source: 'ISO 5167-2, Reader-Harris/Gallagher, corner taps, water (ε = 1)',
  },
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
        source: 'ISO 1438, Kindsvater–Carter; nothing flows while the water is not above the crest',
      },
      {
        formula: 'h > 0 ? k_w * vNotch(h, theta, g) : 0',
        inputs: { h: 'weirHead', g: 'gravity' },
        constants: { theta: 'weir.notchAngle', k_w: 'weir.calibrationFactor' },
        source:
          'Kulin and Compton 1975, fit over the angle to Kindsvater–Shen (ISO 1438); nothing flows while the water is not above the notch',
      },
    ],
  },
  {
    id: 'discharge',
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
