import { relation } from '../relation.ts'

export const generatorPower = relation({
  id: 'generatorGap',
  name: 'Shaft to generator',
  symbol: 'ΔP_g',
  unit: 'W',
  view: 'W',
  expected: 'T * omega * etaGenerator(P / P_r)',
  measured: 'P',
  inputs: { T: 'torque', omega: 'speed', P: 'activePower' },
  constants: { P_r: 'generator.ratedPower' },
  curves: { etaGenerator: 'generator.efficiencyCurve' },
  needs: ['torque', 'speed', 'activePower'],
  valid: [
    {
      test: 'abs(omega / n_r - 1) < 0.05',
      constants: { n_r: 'generator.ratedSpeed' },
      otherwise: 'the generator is not at its rated speed, where its curve holds',
    },
  ],
  share: 0.01,
  assumes: 'the generator or its efficiency curve',
  source: 'definition of generator efficiency; the curve of the plant file',
})
