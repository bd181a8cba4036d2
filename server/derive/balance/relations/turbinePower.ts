import { relation } from '../relation.ts'

export const turbinePower = relation({
  id: 'turbineGap',
  name: 'Water to shaft',
  symbol: 'ΔP_t',
  unit: 'W',
  view: 'W',
  expected: 'P_h * etaTurbine(Q / Q_r)',
  measured: 'T * omega',
  inputs: { P_h: 'hydraulicPower', Q: 'discharge', T: 'torque', omega: 'speed', H_n: 'netHead' },
  constants: { Q_r: 'turbine.ratedDischarge' },
  curves: { etaTurbine: 'turbine.efficiencyCurve' },
  needs: ['discharge', 'torque', 'speed'],
  valid: [
    {
      test: 'abs(omega / n_r / sqrt(H_n / H_r) - 1) < 0.05',
      constants: { n_r: 'turbine.ratedSpeed', H_r: 'turbine.ratedNetHead' },
      otherwise: 'the runner is not at its best speed for this head, where its curve holds',
    },
  ],
  share: 0.02,
  assumes: 'the runner or its efficiency curve',
  source: 'definition of turbine efficiency; the curve of the plant file',
})
