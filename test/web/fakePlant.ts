import type { FigureDescription, FigureGroup, FigureValue } from '../../server/wire/figure.ts'
import type { PlantView } from '../../server/wire/plant.ts'

/**
 * A made-up rig for looking at the page without the server. Numbers after the design sheet of the
 * fictional rig; nothing here is a check value.
 */

/** Full description of one made-up figure: how it moves, and how well it is known. */
interface Row {
  description: FigureDescription
  /** Middle and swing in the wire unit. */
  base: number
  swing: number
  u95?: number
}

type Short = [
  id: string,
  name: string,
  symbol: string,
  units: [wire: string, view: string],
  group: FigureGroup,
  origin: FigureDescription['origin'],
  motion: [base: number, swing: number, u95?: number],
  limits?: { rated?: number; low?: number; high?: number },
]

/** 1 min⁻¹ in rad/s. */
export const RPM = (2 * Math.PI) / 60

const SHORT: Short[] = [
  ['sumpLevel', 'Sump level', 'z_su', ['m', 'm'], 'water', 'measured', [0.412, 0.004]],
  [
    'discharge',
    'Discharge',
    'Q',
    ['m3/s', 'L/s'],
    'water',
    'measured',
    [0.003605, 4e-5, 1.8e-5],
    { rated: 0.0036 },
  ],
  ['waterTemperature', 'Water temperature', 't_w', ['K', 'Cel'], 'water', 'measured', [291.3, 0.1]],
  ['inletPressure', 'Turbine inlet pressure', 'p', ['Pa', 'bar'], 'head', 'measured', [233000, 1800, 600]],
  [
    'netHead',
    'Net head',
    'H_n',
    ['m', 'm'],
    'head',
    'derived',
    [24, 0.2, 0.11],
    { rated: 24, low: 20, high: 27 },
  ],
  [
    'speed',
    'Speed',
    'n',
    ['rad/s', '/min'],
    'machine',
    'measured',
    [1500 * RPM, 14 * RPM, 0.9 * RPM],
    { rated: 1500 * RPM, low: 1400 * RPM, high: 1575 * RPM },
  ],
  ['torque', 'Shaft torque', 'T', ['N.m', 'N.m'], 'machine', 'measured', [3.775, 0.05, 0.03]],
  ['jetOpen.1', 'Jet 1 open', 'j₁', ['1', '1'], 'machine', 'measured', [1, 0]],
  ['jetOpen.2', 'Jet 2 open', 'j₂', ['1', '1'], 'machine', 'measured', [1, 0]],
  ['jetOpen.3', 'Jet 3 open', 'j₃', ['1', '1'], 'machine', 'measured', [1, 0]],
  ['jetOpen.4', 'Jet 4 open', 'j₄', ['1', '1'], 'machine', 'measured', [0, 0]],
  ['hydraulicPower', 'Hydraulic power', 'P_h', ['W', 'W'], 'water', 'derived', [847, 9, 9.1], { rated: 847 }],
  ['shaftPower', 'Shaft power', 'P_s', ['W', 'W'], 'machine', 'derived', [593, 8, 5.2]],
  [
    'activePower',
    'Active power',
    'P',
    ['W', 'W'],
    'electrical',
    'measured',
    [513, 7, 2.6],
    { rated: 513, high: 560 },
  ],
  ['phaseVoltage', 'Phase voltage', 'U', ['V', 'V'], 'electrical', 'measured', [24.7, 0.2, 0.06]],
  ['phaseCurrent', 'Phase current', 'I', ['A', 'A'], 'electrical', 'measured', [6.92, 0.1, 0.03]],
  ['frequency', 'Electrical frequency', 'f', ['Hz', 'Hz'], 'electrical', 'measured', [50.02, 0.1]],
  ['batteryPower', 'Battery power', 'P_b', ['W', 'W'], 'storage', 'derived', [232, 7, 4.1]],
  ['batteryVoltage', 'Battery voltage', 'U_b', ['V', 'V'], 'storage', 'measured', [26.4, 0.05]],
  [
    'stateOfCharge',
    'State of charge',
    'SoC',
    ['1', '%'],
    'storage',
    'estimated',
    [0.71, 0.004],
    { low: 0.2 },
  ],
  ['loadPower', 'Power to loads', 'P_l', ['W', 'W'], 'loads', 'measured', [190, 6]],
  ['inverterInputPower', 'Inverter input power', 'P_i', ['W', 'W'], 'loads', 'derived', [214, 6]],
  [
    'kinematicViscosity',
    'Kinematic viscosity of the water',
    'ν',
    ['m2/s', 'mm2/s'],
    'water',
    'derived',
    [1.053e-6, 0, 2.1e-8],
  ],
  ['dumpPower', 'Dump load power', 'P_d', ['W', 'W'], 'loads', 'measured', [31, 4]],
  [
    'turbineEfficiency',
    'Turbine efficiency',
    'η_t',
    ['1', '%'],
    'efficiency',
    'derived',
    [0.7, 0.006, 0.0098],
    { rated: 0.7 },
  ],
  [
    'generatorEfficiency',
    'Generator efficiency',
    'η_g',
    ['1', '%'],
    'efficiency',
    'derived',
    [0.865, 0.004, 0.0087],
  ],
  [
    'bearingTemperature.1',
    'Bearing temperature, drive end',
    't_b1',
    ['K', 'Cel'],
    'condition',
    'measured',
    [321.4, 0.3],
    { high: 353.15 },
  ],
  ['vibration', 'Vibration', 'v_rms', ['m/s', 'mm/s'], 'condition', 'measured', [0.0011, 0.0002]],
  ['pumpInputPower', 'Pump drive input power', 'P_m', ['W', 'W'], 'pump', 'measured', [1897, 20, 19]],
]

export const rows: Row[] = SHORT.map(
  ([id, name, symbol, [unit, viewUnit], group, origin, [base, swing, u95], limits]) => ({
    description: {
      id,
      name,
      symbol,
      unit,
      viewUnit,
      group,
      origin,
      // Switches speak only when they change.
      ...(id.startsWith('jetOpen')
        ? { discrete: true as const, staleAfterMs: null }
        : { staleAfterMs: 5000 }),
      ...limits,
    },
    base,
    swing,
    ...(u95 === undefined ? {} : { u95 }),
  }),
)

/** Slow and fast swings of its own for each figure, so that the trends look like something. */
export function valueAt(row: number, at: number): number {
  const { base, swing } = rows[row]!
  const t = at / 1000
  return (
    base +
    swing * (0.6 * Math.sin(t / (60 + 7 * row)) + 0.3 * Math.sin(t / (5 + row)) + 0.1 * Math.sin(t * 1.7))
  )
}

export function figureAt(row: number, at: number): FigureValue {
  const { description, u95 } = rows[row]!
  const value: FigureValue = { value: valueAt(row, at), at: at - 120, quality: 'good', reasons: [] }
  if (u95 !== undefined) value.u95 = u95
  if (description.id === 'kinematicViscosity') return { ...value, at: null }
  if (description.id.startsWith('jetOpen')) return { ...value, at: at - 4_000_000 }
  if (description.id === 'vibration')
    return { value: null, at: at - 93_000, quality: 'bad', reasons: ['payload "ERR" is not a number'] }
  if (description.id === 'sumpLevel')
    return { ...value, at: at - 14_000, quality: 'uncertain', reasons: ['stale 14 s'] }
  if (description.id === 'stateOfCharge')
    return { ...value, quality: 'uncertain', reasons: ['estimated from the voltage alone'] }
  return value
}

export const view: PlantView = {
  id: 'quennerby',
  name: 'Quennerby four-jet teaching rig',
  summary: 'Pelton wheel on a pumped loop, 513 W at the generator',
  simulated: true,
  timeZone: 'Europe/London',
  figures: rows.map((row) => row.description),
  doubts: [],
  missing: [
    { id: 'residualFlow', name: 'Residual flow', needs: 'needs a level or flow sensor in the river.' },
  ],
  keyFigures: ['activePower', 'speed', 'netHead', 'discharge', 'turbineEfficiency', 'stateOfCharge'],
  trends: [
    'hydraulicPower',
    'shaftPower',
    'activePower',
    'speed',
    'netHead',
    'discharge',
    'turbineEfficiency',
    'sumpLevel',
  ],
  path: [
    { id: 'pump', name: 'Pump drive', figure: 'pumpInputPower', details: [], from: null, loss: null },
    {
      id: 'water',
      name: 'Water at the nozzles',
      figure: 'hydraulicPower',
      details: ['netHead', 'discharge'],
      from: 'pump',
      loss: null,
    },
    {
      id: 'shaft',
      name: 'Turbine shaft',
      figure: 'shaftPower',
      details: ['speed', 'torque', 'turbineEfficiency'],
      from: 'water',
      loss: null,
    },
    {
      id: 'generator',
      name: 'Generator',
      figure: 'activePower',
      details: ['phaseVoltage', 'phaseCurrent', 'frequency'],
      from: 'shaft',
      loss: null,
    },
    { id: 'rectifier', name: 'Rectifier', figure: null, details: [], from: 'generator', loss: null },
    {
      id: 'battery',
      name: 'Battery',
      figure: 'batteryPower',
      details: ['batteryVoltage', 'stateOfCharge'],
      from: 'rectifier',
      loss: null,
    },
    { id: 'dump', name: 'Dump load', figure: 'dumpPower', details: [], from: 'rectifier', loss: null },
    {
      id: 'inverter',
      name: 'Inverter',
      figure: 'inverterInputPower',
      details: [],
      from: 'rectifier',
      loss: null,
    },
    { id: 'loads', name: 'Loads', figure: 'loadPower', details: [], from: 'inverter', loss: null },
  ],
  controls: [
    { id: 'jet1', name: 'Jet 1', kind: 'switch', initial: true },
    { id: 'jet4', name: 'Jet 4', kind: 'switch', initial: false },
    { id: 'pump', name: 'Pump speed', kind: 'slider', min: 0, max: 100, step: 1, unit: '%', initial: 100 },
    {
      id: 'scenario',
      name: 'Scenario',
      kind: 'choice',
      choices: [
        { id: 'steady', name: 'Steady running' },
        { id: 'loadRejection', name: 'Load rejection' },
      ],
      initial: 'steady',
    },
  ],
  cautions: [
    {
      signal: 'DANGER',
      text: 'A generator makes voltage whenever the shaft turns, even with loads off. Stop the water, wait for standstill, isolate, lock, prove dead, then touch.',
    },
    {
      signal: 'WARNING',
      text: 'A jet at 2-5 bar injures eyes and skin. Release pressure before opening any joint; wear eye protection.',
    },
    { signal: 'CAUTION', text: 'The dump load may exceed 60 °C; keep clear of combustibles; do not cover.' },
  ],
}
