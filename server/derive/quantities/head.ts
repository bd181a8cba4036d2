import { awayFromZero, type FigureRecord, isImpulse, isReaction } from '../quantity.ts'
import { GROSS_HEAD, HEAD_LOSS, NET_HEAD } from './beliefs.ts'
import { WATER } from './place.ts'

const NO_VELOCITY_HEAD =
  'the velocity head is left out: the plant file gives no turbine.inletBore, or no flow is measured'

/** From the water levels to the machine. */
export const head: readonly FigureRecord[] = [
  {
    id: 'tailwaterElevation',
    name: 'Elevation of the tailwater',
    symbol: 'z_2',
    unit: 'm',
    group: 'head',
    background: true,
    ways: [
      {
        formula: 'z_tw + z_1',
        inputs: { z_tw: 'tailwaterLevel' },
        constants: { z_1: 'site.elevations.tailwaterZero' },
        source: 'reading of the gauge over its zero',
      },
      {
        formula: 'z',
        inputs: {},
        constants: { z: 'site.elevations.tailwater' },
        estimated:
          'the tailwater is taken to stand where the plant file says; nobody measures it, and it rises with the flow',
        source: 'given in the plant file',
      },
    ],
  },
  {
    id: 'grossHead',
    likely: GROSS_HEAD,
    name: 'Gross head',
    symbol: 'H_g',
    unit: 'm',
    group: 'head',
    ways: [
      {
        formula: '(z_hw + z_0) - z_t',
        inputs: { z_hw: 'headwaterLevel' },
        constants: { z_0: 'site.elevations.headwaterZero', z_t: 'site.elevations.turbine' },
        applies: isImpulse,
        source: 'IEC 60041: an impulse machine is referred to the jet, not to the tailwater',
      },
      {
        formula: '(z_hw + z_0) - z_2',
        inputs: { z_hw: 'headwaterLevel', z_2: 'tailwaterElevation' },
        constants: { z_0: 'site.elevations.headwaterZero' },
        applies: isReaction,
        source: 'IEC 60041',
      },
    ],
  },
  {
    id: 'netHead',
    likely: NET_HEAD,
    name: 'Net head',
    symbol: 'H_n',
    unit: 'm',
    group: 'head',
    ways: [
      {
        formula: 'p / (rho * g) + (z_p - z_t) + meanVelocity(Q, D)^2 / (2 * g)',
        inputs: { p: 'inletPressure', Q: 'discharge', ...WATER },
        constants: {
          z_p: 'site.elevations.inletGauge',
          z_t: 'site.elevations.turbine',
          D: 'turbine.inletBore',
        },
        applies: isImpulse,
        source: 'IEC 60041 and IEC 62006, net head of an impulse turbine',
      },
      {
        formula: 'p / (rho * g) + z_p - z_2 + (meanVelocity(Q, D)^2 - (Q / A_2)^2) / (2 * g)',
        inputs: { p: 'inletPressure', Q: 'discharge', z_2: 'tailwaterElevation', ...WATER },
        constants: {
          z_p: 'site.elevations.inletGauge',
          D: 'turbine.inletBore',
          A_2: 'turbine.draftTubeArea',
        },
        applies: isReaction,
        source: 'IEC 60041, net head of a reaction turbine: total head at the inlet less that at the outlet',
      },
      {
        formula: 'p / (rho * g) + z_p - z_2 + meanVelocity(Q, D)^2 / (2 * g)',
        inputs: { p: 'inletPressure', Q: 'discharge', z_2: 'tailwaterElevation', ...WATER },
        constants: {
          z_p: 'site.elevations.inletGauge',
          D: 'turbine.inletBore',
        },
        applies: isReaction,
        source:
          'IEC 60041, net head of a reaction turbine; the velocity head at the draft tube outlet is taken as zero',
      },
      {
        formula: 'p / (rho * g) + z_p - z_2',
        inputs: { p: 'inletPressure', z_2: 'tailwaterElevation', ...WATER },
        constants: { z_p: 'site.elevations.inletGauge' },
        applies: isReaction,
        estimated: NO_VELOCITY_HEAD,
        source: 'hydrostatics',
      },
      {
        formula: 'p / (rho * g) + (z_p - z_t)',
        inputs: { p: 'inletPressure', ...WATER },
        constants: { z_p: 'site.elevations.inletGauge', z_t: 'site.elevations.turbine' },
        applies: isImpulse,
        estimated: NO_VELOCITY_HEAD,
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
        inputs: { p: 'inletPressure', ...WATER },
        // Of a machine with a draft tube it would leave out what the water does below the gauge.
        applies: (plant) => !isReaction(plant),
        estimated: 'gauge elevation and velocity head are left out: the plant file gives neither',
        source: 'hydrostatics',
      },
    ],
  },
  {
    id: 'netHeadSlope',
    name: 'Rate of change of the net head',
    symbol: 'dH/dt',
    unit: 'm/s',
    group: 'head',
    background: true,
    formula: 'slope(H_n)',
    inputs: { H_n: 'netHead' },
    window: { seconds: 2, take: 'slope' },
    source: 'slope of the net head over 2 s, at least five values, by least squares',
  },
  {
    id: 'headLoss',
    likely: HEAD_LOSS,
    name: 'Head loss',
    symbol: 'h_f',
    unit: 'm',
    group: 'head',
    formula: 'H_g - H_n',
    inputs: { H_g: 'grossHead', H_n: 'netHead' },
    source: 'definition: gross head less net head',
  },
  {
    id: 'modelledHeadLoss',
    name: 'Head loss by the pipe model',
    symbol: 'h_m',
    unit: 'm',
    group: 'head',
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
  {
    id: 'lossShare',
    name: 'Share of gross head lost',
    symbol: 's_f',
    unit: '1',
    view: '%',
    group: 'head',
    steady: ['water'],
    formula: 'h_f / H_g',
    inputs: { h_f: 'headLoss', H_g: 'grossHead' },
    valid: [{ test: 'H_g > 0', otherwise: 'no gross head' }],
    source: 'definition; power at the machine is highest at one third (Darcy loss ∝ Q²)',
  },
  {
    id: 'lossOverOptimum',
    name: 'Head loss over that of greatest power',
    symbol: 'r_f',
    unit: '1',
    view: '%',
    group: 'head',
    background: true,
    steady: ['water'],
    formula: '3 * h_f / H_g',
    inputs: { h_f: 'headLoss', H_g: 'grossHead' },
    valid: [{ test: 'H_g > 0', otherwise: 'no gross head' }],
    source:
      'power at the machine is greatest at h_f = H_g/3 (loss ∝ Q²), 100 % here; designs stay at 12 … 30 % (common practice, no source)',
  },
  {
    id: 'lossCoefficient',
    name: 'Loss coefficient of the penstock',
    symbol: 'k_f',
    unit: 's2/m5',
    group: 'condition',
    steady: ['water'],
    formula: 'h_f / Q^2',
    // Without a gauge the loss is that of the model, which says nothing of the pipe.
    inputs: { h_f: 'headLoss', Q: 'discharge', p: 'inletPressure' },
    valid: awayFromZero(0.4, { Q: ['discharge', 'no discharge'] }, 'turbine.ratedDischarge'),
    source: 'h_f = k·Q², Darcy–Weisbach in the rough regime',
  },
  {
    id: 'staticHeadExcess',
    name: 'Static pressure against the level',
    symbol: 'Δh_0',
    unit: 'm',
    group: 'condition',
    formula: 'p / (rho * g) + z_p - (z_hw + z_0)',
    inputs: { p: 'inletPressure', z_hw: 'headwaterLevel', Q: 'discharge', ...WATER },
    constants: { z_p: 'site.elevations.inletGauge', z_0: 'site.elevations.headwaterZero' },
    valid: [
      {
        test: 'abs(Q) < 0.01 * Q_r',
        constants: { Q_r: 'turbine.ratedDischarge' },
        otherwise: 'water is flowing',
      },
      { test: 'abs(Q) >= 0', otherwise: 'no discharge is known' },
    ],
    source: 'hydrostatics: without flow the gauge shows the level above it, else one of the two is off',
  },
]
