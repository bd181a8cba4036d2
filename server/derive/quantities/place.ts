import type { Amount, Default, FigureRecord } from '../quantity.ts'

/** Inputs of whatever turns a pressure or a flow into a head or a power: `rho * g`. */
export const WATER = { rho: 'waterDensity', g: 'gravity' } as const

/** From the equator to the poles, 9.780 … 9.832 m/s² (IEC 60041 formula). */
const ANYWHERE: Amount = {
  value: 0,
  unit: 'm/s2',
  path: 'gravity of an unknown latitude',
  plusMinus: { fixed: 0.027, source: 'from the equator to the poles, by the formula of IEC 60041' },
}

const NO_HEAD: Default = { value: 0, unit: 'm', says: 'no rated net head, counted as water at the surface' }
const MEAN_DENSITY =
  'Tanaka et al. 2001, Metrologia 38:301, between inlet and outlet of the machine (mean density, IEC 60041)'

/** What holds at a place: its water and its gravity. */
export const place: readonly FigureRecord[] = [
  {
    id: 'waterDensity',
    name: 'Water density',
    symbol: 'ρ',
    unit: 'kg/m3',
    group: 'water',
    background: true,
    ways: [
      {
        formula: 'rho',
        inputs: {},
        constants: { rho: 'site.waterDensity' },
        source: 'given in the plant file',
      },
      {
        formula: 'waterDensityUnderHead(t, H_r / 2)',
        inputs: { t: 'waterTemperature' },
        constants: { H_r: 'turbine.ratedNetHead' },
        defaults: { H_r: NO_HEAD },
        source: MEAN_DENSITY,
      },
      {
        formula: 'waterDensityUnderHead(t, H_r / 2)',
        inputs: {},
        constants: { t: 'site.waterTemperature', H_r: 'turbine.ratedNetHead' },
        defaults: { H_r: NO_HEAD },
        source: `${MEAN_DENSITY}; at the temperature of the plant file`,
      },
    ],
  },
  {
    id: 'kinematicViscosity',
    name: 'Kinematic viscosity of water',
    symbol: 'ν',
    unit: 'm2/s',
    view: 'mm2/s',
    group: 'water',
    background: true,
    ways: [
      {
        formula: 'waterKinematicViscosity(t)',
        inputs: { t: 'waterTemperature' },
        source: 'IAPWS SR6-08 and Tanaka 2001',
      },
      {
        formula: 'waterKinematicViscosity(t)',
        inputs: {},
        constants: { t: 'site.waterTemperature' },
        source: 'IAPWS SR6-08 and Tanaka 2001, at the temperature of the plant file',
      },
    ],
  },
  {
    id: 'gravity',
    name: 'Local gravity',
    symbol: 'g',
    unit: 'm/s2',
    group: 'head',
    background: true,
    ways: [
      {
        formula: 'g',
        inputs: {},
        constants: { g: 'site.gravity' },
        source: 'given in the plant file',
      },
      {
        formula: 'gravityIec60041(phi, z)',
        inputs: {},
        constants: { phi: 'site.latitude', z: 'site.altitude' },
        source: 'IEC 60041:1991, gravity by latitude and altitude',
      },
      {
        formula: 'standardGravity() + g_a',
        inputs: {},
        amounts: { g_a: ANYWHERE },
        source: 'standard gravity, CGPM 1901, since the plant file gives no latitude',
      },
    ],
  },
]
