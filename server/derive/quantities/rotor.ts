import { type FigureRecord, whileNotMotoring } from '../quantity.ts'

/** The turning mass, its shaft and its bearings. */
export const rotor: readonly FigureRecord[] = [
  {
    id: 'mechanicalTimeConstant',
    name: 'Mechanical time constant',
    symbol: 'T_m',
    unit: 's',
    group: 'machine',
    background: true,
    ways: [
      {
        formula: 'J * omega_r^2 / P_r',
        inputs: {},
        constants: {
          J: 'generator.inertia',
          omega_r: 'generator.ratedSpeed',
          P_r: 'turbine.ratedShaftPower',
        },
        source: 'T_m = J·ω²/P: after a load rejection speed rises by about n/T_m per second',
      },
      {
        formula: 'J * omega_r^2 / P_r',
        inputs: {},
        constants: { J: 'generator.inertia', omega_r: 'generator.ratedSpeed', P_r: 'generator.ratedPower' },
        source: 'T_m = J·ω²/P with the electrical power, as the plant file gives no shaft power',
      },
    ],
  },
  {
    id: 'speedSlope',
    name: 'Rate of change of speed',
    symbol: 'α',
    unit: 'rad/s2',
    view: '/min/s',
    group: 'machine',
    background: true,
    formula: 'slope(omega)',
    inputs: { omega: 'speed' },
    window: { seconds: 1, take: 'slope' },
    source: 'slope of the speed over 1 s, at least five readings, by least squares',
  },
  {
    id: 'kineticEnergy',
    name: 'Energy in the rotor',
    symbol: 'E_k',
    unit: 'J',
    group: 'machine',
    background: true,
    formula: 'J * omega^2 / 2',
    inputs: { omega: 'speed' },
    constants: { J: 'generator.inertia' },
    source: 'mechanics: ½·J·ω², J of all that turns, at the speed of the generator',
  },
  {
    id: 'kineticPower',
    name: 'Power into the rotor',
    symbol: 'P_k',
    unit: 'W',
    group: 'machine',
    formula: 'J * omega * alpha',
    inputs: { omega: 'speed', alpha: 'speedSlope' },
    constants: { J: 'generator.inertia' },
    source: 'mechanics: d(½·J·ω²)/dt = J·ω·dω/dt; while it is large, efficiencies mean nothing',
  },
  {
    id: 'bearingRise',
    name: 'Hottest bearing over ambient',
    symbol: 'Δt_b',
    unit: 'K',
    group: 'condition',
    formula: 'max(t_b) - t_a',
    inputs: { t_b: 'bearingTemperature.*', t_a: 'ambientTemperature' },
    source: 'definition; at a long standstill it is zero, else a sensor is off',
  },
  {
    id: 'shaftPower',
    name: 'Shaft power',
    symbol: 'P_s',
    unit: 'W',
    group: 'machine',
    ways: [
      {
        formula: 'T * omega',
        inputs: { T: 'torque', omega: 'speed' },
        source: 'mechanics: power of a rotating shaft',
      },
      {
        formula: 'P / etaGenerator(P / P_r)',
        inputs: { P: 'activePower' },
        constants: { P_r: 'generator.ratedPower' },
        curves: { etaGenerator: 'generator.efficiencyCurve' },
        // Of power that goes in the curve says nothing.
        valid: [whileNotMotoring('P')],
        estimated:
          'active power over the generator efficiency curve of the plant file; no torque is measured',
        source: 'definition of generator efficiency',
      },
    ],
  },
]
