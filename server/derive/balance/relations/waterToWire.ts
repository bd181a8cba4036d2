import { relation } from '../relation.ts'

export const waterToWire = relation({
  id: 'waterToWireGap',
  name: 'Water to generator',
  symbol: 'ΔP_w',
  unit: 'W',
  view: 'W',
  expected: 'P_h * etaTurbine(Q / Q_r) * eta_d * etaGenerator(P / P_r)',
  measured: 'P',
  inputs: { P_h: 'hydraulicPower', Q: 'discharge', P: 'activePower' },
  constants: {
    Q_r: 'turbine.ratedDischarge',
    eta_d: 'turbine.driveEfficiency',
    P_r: 'generator.ratedPower',
  },
  curves: { etaTurbine: 'turbine.efficiencyCurve', etaGenerator: 'generator.efficiencyCurve' },
  needs: ['discharge', 'inletPressure', 'activePower'],
  applies: ({ instruments }) => !instruments.some((one) => one.quantity === 'torque'),
  share: 0.03,
  assumes: 'the runner, the generator or an efficiency curve',
  source: 'definitions of efficiency; the curves of the plant file',
})
