import type { Way } from '../../quantity.ts'
import { type Relation, relation } from '../relation.ts'

const plain = relation({
  id: 'pipeGap',
  name: 'Pump to manifold',
  symbol: 'Δh_p',
  unit: 'm',
  view: 'm',
  expected:
    'darcyLoss(frictionFactor(reynoldsNumber(meanVelocity(Q, D), D, nu), k / D), L, D, meanVelocity(Q, D), g) + minorLoss(K, meanVelocity(Q, D), g)',
  measured: '(p_d - p) / (rho * g) + z_d - z_p',
  inputs: {
    Q: 'discharge',
    p_d: 'pumpOutletPressure',
    p: 'inletPressure',
    nu: 'kinematicViscosity',
    rho: 'waterDensity',
    g: 'gravity',
  },
  constants: {
    D: 'penstock.bore',
    L: 'penstock.length',
    k: 'penstock.roughness',
    K: 'penstock.minorLoss',
    z_d: 'site.elevations.pumpGauge',
    z_p: 'site.elevations.inletGauge',
  },
  needs: ['discharge', 'pumpOutletPressure', 'inletPressure'],
  valid: [{ test: 'Q > 0', otherwise: 'no discharge' }],
  share: 0.04,
  assumes: 'the loss of the pipe',
  source: 'Darcy–Weisbach, Colebrook–White; equal bore at both gauges',
})

/** With a throttle valve between the gauges the model of the pipe holds only while that is open. */
export const pumpPipe: Relation = {
  ...plain,
  quantity: { ...plain.quantity, ways: plain.quantity.ways.flatMap(openToo) },
}

function openToo(way: Way): Way[] {
  const isOpen = { test: 's_v > 0.98', otherwise: 'the throttle valve is not open' }
  const withValve = { ...way, inputs: { ...way.inputs, s_v: 'throttleOpening' } }
  return [{ ...withValve, valid: [...(way.valid ?? []), isOpen] }, way]
}
