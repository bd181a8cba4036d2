import { relation } from '../relation.ts'

export const pumpCurve = relation({
  id: 'pumpGap',
  name: 'Pump curve',
  symbol: 'ΔH_p',
  unit: 'm',
  view: 'm',
  expected: 'H_0 * s^2 - (H_0 - H_r) * (Q / Q_r)^2',
  measured: 'p_d / (rho * g) + z_d - z_s + meanVelocity(Q, D)^2 / (2 * g)',
  inputs: {
    s: 'pumpSpeed',
    Q: 'discharge',
    p_d: 'pumpOutletPressure',
    rho: 'waterDensity',
    g: 'gravity',
  },
  constants: {
    H_0: 'pump.shutOffHead',
    H_r: 'pump.ratedHead',
    Q_r: 'pump.ratedDischarge',
    z_d: 'site.elevations.pumpGauge',
    z_s: 'site.elevations.sump',
    D: 'penstock.bore',
  },
  needs: ['pumpSpeed', 'discharge', 'pumpOutletPressure'],
  valid: [{ test: 's > 0.3', otherwise: 'the pump runs below 30 % speed' }],
  share: 0.02,
  assumes: 'the pump, its strainer or its curve',
  source: 'ISO 9906 pump total head; affinity laws, parabola through shut-off and rated point',
})
