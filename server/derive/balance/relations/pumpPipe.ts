import { relation } from '../relation.ts'

export const pumpPipe = relation({
  id: 'pipeGap',
  name: 'Pump to manifold',
  symbol: 'Δh_p',
  unit: 'm',
  view: 'm',
  expected: 'h_m',
  measured: '(p_d - p) / (rho * g) + z_d - z_p',
  inputs: {
    h_m: 'modelledHeadLoss',
    p_d: 'pumpOutletPressure',
    p: 'inletPressure',
    rho: 'waterDensity',
    g: 'gravity',
    s_v: 'throttleOpening',
  },
  defaults: { s_v: { value: 1, unit: '1', says: 'there is no throttle valve' } },
  constants: { z_d: 'site.elevations.pumpGauge', z_p: 'site.elevations.inletGauge' },
  needs: ['discharge', 'pumpOutletPressure', 'inletPressure'],
  // With a throttle valve between the gauges the model of the pipe holds only while that is open.
  valid: [{ test: 's_v > 0.98', otherwise: 'the throttle valve is not open' }],
  share: 0.04,
  assumes: 'the loss of the pipe',
  source: 'Darcy–Weisbach, Colebrook–White; equal bore at both gauges',
})
