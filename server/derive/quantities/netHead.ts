import { isImpulse, isReaction, type Quantity } from '../quantity.ts'

export const netHead: Quantity = {
  id: 'netHead',
  name: 'Net head',
  symbol: 'H_n',
  unit: 'm',
  view: 'm',
  group: 'head',
  ways: [
    {
      formula: 'p / (rho * g) + (z_p - z_t) + meanVelocity(Q, D)^2 / (2 * g)',
      inputs: { p: 'inletPressure', Q: 'discharge', rho: 'waterDensity', g: 'gravity' },
      constants: {
        z_p: 'site.elevations.inletGauge',
        z_t: 'site.elevations.turbine',
        D: 'turbine.inletBore',
      },
      applies: isImpulse,
      source: 'IEC 60041 and IEC 62006, net head of an impulse turbine',
    },
    {
      formula: 'p / (rho * g) + z_p - (z_tw + z_1) + (meanVelocity(Q, D)^2 - (Q / A_2)^2) / (2 * g)',
      inputs: {
        p: 'inletPressure',
        Q: 'discharge',
        z_tw: 'tailwaterLevel',
        rho: 'waterDensity',
        g: 'gravity',
      },
      constants: {
        z_p: 'site.elevations.inletGauge',
        z_1: 'site.elevations.tailwaterZero',
        D: 'turbine.inletBore',
        A_2: 'turbine.draftTubeArea',
      },
      applies: isReaction,
      source: 'IEC 60041, net head of a reaction turbine: total head at the inlet less that at the outlet',
    },
    {
      formula: 'p / (rho * g) + z_p - (z_tw + z_1) + meanVelocity(Q, D)^2 / (2 * g)',
      inputs: {
        p: 'inletPressure',
        Q: 'discharge',
        z_tw: 'tailwaterLevel',
        rho: 'waterDensity',
        g: 'gravity',
      },
      constants: {
        z_p: 'site.elevations.inletGauge',
        z_1: 'site.elevations.tailwaterZero',
        D: 'turbine.inletBore',
      },
      applies: isReaction,
      source:
        'IEC 60041, net head of a reaction turbine; the velocity head at the draft tube outlet is taken as zero',
    },
    {
      formula: 'p / (rho * g) + (z_p - z_t)',
      inputs: { p: 'inletPressure', rho: 'waterDensity', g: 'gravity' },
      constants: { z_p: 'site.elevations.inletGauge', z_t: 'site.elevations.turbine' },
      applies: isImpulse,
      estimated:
        'the velocity head is left out: the plant file gives no turbine.inletBore, or no flow is measured',
      source: 'hydrostatics',
    },
    {
      formula: 'H_g - h_m',
      inputs: { H_g: 'grossHead', h_m: 'modelledHeadLoss' },
      estimated: 'gross head less the modelled penstock loss',
      source: 'Darcy–Weisbach, Colebrook–White',
    },
    {
      formula: 'p / (rho * g)',
      inputs: { p: 'inletPressure', rho: 'waterDensity', g: 'gravity' },
      estimated: 'gauge elevation and velocity head are left out: the plant file gives neither',
      source: 'hydrostatics',
    },
  ],
}
