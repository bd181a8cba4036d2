import type { Quantity } from '../quantity.ts'

export const modelledHeadLoss: Quantity = {
  id: 'modelledHeadLoss',
  name: 'Head loss by the pipe model',
  symbol: 'h_m',
  unit: 'm',
  view: 'm',
  group: 'head',
  ways: [
    {
      formula:
        'darcyLoss(frictionFactor(reynoldsNumber(meanVelocity(Q, D), D, nu), k / D), L, D, meanVelocity(Q, D), g) + minorLoss(K, meanVelocity(Q, D), g)',
      inputs: { Q: 'discharge', nu: 'kinematicViscosity', g: 'gravity' },
      constants: {
        D: 'penstock.bore',
        L: 'penstock.length',
        k: 'penstock.roughness',
        K: 'penstock.minorLoss',
      },
      valid: [{ test: 'Q > 0', otherwise: 'no discharge' }],
      source: 'Darcy–Weisbach, Colebrook–White',
    },
  ],
}
