import type { FigureGroup } from '../wire/figure.ts'

/**
 * What an instrument can measure. An instrument's `role` names one row; several of one kind are told apart
 * by a suffix, e.g. jetOpen.1 … jetOpen.4. The unit is the SI unit inside; `view` is what people read.
 */
export interface Role {
  id: string
  name: string
  symbol: string
  unit: string
  view: string
  group: FigureGroup
  /** True where a suffix .1, .2 … is expected. */
  many?: boolean
  /** A state, not an amount: 0 or 1. */
  discrete?: boolean
  /** Counts up for ever. */
  counter?: boolean
}

const ROWS: Role[] = [
  // water
  { id: 'headwaterLevel', name: 'Headwater level', symbol: 'z_hw', unit: 'm', view: 'm', group: 'water' },
  {
    id: 'rackUpstreamLevel',
    name: 'Level before the rack',
    symbol: 'z_up',
    unit: 'm',
    view: 'm',
    group: 'water',
  },
  { id: 'tailwaterLevel', name: 'Tailwater level', symbol: 'z_tw', unit: 'm', view: 'm', group: 'water' },
  { id: 'riverLevel', name: 'River level', symbol: 'z_rv', unit: 'm', view: 'm', group: 'water' },
  { id: 'sumpLevel', name: 'Sump level', symbol: 'z_su', unit: 'm', view: 'm', group: 'water' },
  { id: 'discharge', name: 'Discharge', symbol: 'Q', unit: 'm3/s', view: 'L/s', group: 'water' },
  { id: 'residualFlow', name: 'Residual flow', symbol: 'Q_res', unit: 'm3/s', view: 'L/s', group: 'water' },
  { id: 'weirHead', name: 'Head over the weir', symbol: 'h_w', unit: 'm', view: 'm', group: 'water' },
  {
    id: 'meterPressureDifference',
    name: 'Flow meter differential pressure',
    symbol: 'Δp',
    unit: 'Pa',
    view: 'kPa',
    group: 'water',
  },
  {
    id: 'waterTemperature',
    name: 'Water temperature',
    symbol: 't_w',
    unit: 'K',
    view: 'Cel',
    group: 'water',
  },
  {
    id: 'rackDifferential',
    name: 'Trash-rack differential',
    symbol: 'Δh_r',
    unit: 'm',
    view: 'm',
    group: 'water',
  },
  // head
  {
    id: 'inletPressure',
    name: 'Turbine inlet pressure',
    symbol: 'p',
    unit: 'Pa',
    view: 'bar',
    group: 'head',
  },
  { id: 'grossHead', name: 'Gross head', symbol: 'H_g', unit: 'm', view: 'm', group: 'head' },
  // machine
  { id: 'speed', name: 'Speed', symbol: 'n', unit: 'rad/s', view: '/min', group: 'machine' },
  { id: 'turbineSpeed', name: 'Turbine speed', symbol: 'n_t', unit: 'rad/s', view: '/min', group: 'machine' },
  { id: 'torque', name: 'Shaft torque', symbol: 'T', unit: 'N.m', view: 'N.m', group: 'machine' },
  {
    id: 'jetOpen',
    name: 'Jet open',
    symbol: 'j',
    unit: '1',
    view: '1',
    group: 'machine',
    many: true,
    discrete: true,
  },
  {
    id: 'needleStroke',
    name: 'Needle stroke',
    symbol: 's',
    unit: '1',
    view: '%',
    group: 'machine',
    many: true,
  },
  {
    id: 'guideVaneOpening',
    name: 'Guide vane opening',
    symbol: 'a',
    unit: '1',
    view: '%',
    group: 'machine',
    many: true,
  },
  {
    id: 'deflector',
    name: 'Deflector in the jet',
    symbol: 'd',
    unit: '1',
    view: '1',
    group: 'machine',
    discrete: true,
  },
  {
    id: 'inletValve',
    name: 'Inlet valve open',
    symbol: 'v',
    unit: '1',
    view: '1',
    group: 'machine',
    discrete: true,
  },
  { id: 'vibration', name: 'Vibration', symbol: 'v_rms', unit: 'm/s', view: 'mm/s', group: 'condition' },
  {
    id: 'bearingTemperature',
    name: 'Bearing temperature',
    symbol: 't_b',
    unit: 'K',
    view: 'Cel',
    group: 'condition',
    many: true,
  },
  {
    id: 'windingTemperature',
    name: 'Winding temperature',
    symbol: 't_wd',
    unit: 'K',
    view: 'Cel',
    group: 'condition',
  },
  {
    id: 'ambientTemperature',
    name: 'Ambient temperature',
    symbol: 't_a',
    unit: 'K',
    view: 'Cel',
    group: 'condition',
  },
  // electrical
  { id: 'activePower', name: 'Active power', symbol: 'P', unit: 'W', view: 'W', group: 'electrical' },
  {
    id: 'reactivePower',
    name: 'Reactive power',
    symbol: 'Q_r',
    unit: 'var',
    view: 'var',
    group: 'electrical',
  },
  { id: 'powerFactor', name: 'Power factor', symbol: 'λ', unit: '1', view: '1', group: 'electrical' },
  { id: 'frequency', name: 'Electrical frequency', symbol: 'f', unit: 'Hz', view: 'Hz', group: 'electrical' },
  {
    id: 'phaseVoltage',
    name: 'Phase voltage',
    symbol: 'U',
    unit: 'V',
    view: 'V',
    group: 'electrical',
    many: true,
  },
  {
    id: 'phaseCurrent',
    name: 'Phase current',
    symbol: 'I',
    unit: 'A',
    view: 'A',
    group: 'electrical',
    many: true,
  },
  {
    id: 'energyMeter',
    name: 'Energy meter reading',
    symbol: 'E_m',
    unit: 'J',
    view: 'kW.h',
    group: 'energy',
    counter: true,
  },
  {
    id: 'gridConnected',
    name: 'Grid connected',
    symbol: 'g_c',
    unit: '1',
    view: '1',
    group: 'electrical',
    discrete: true,
  },
  {
    id: 'tripped',
    name: 'Protection tripped',
    symbol: 'tr',
    unit: '1',
    view: '1',
    group: 'condition',
    many: true,
    discrete: true,
  },
  // direct-current side and storage
  { id: 'dcVoltage', name: 'Rectifier voltage', symbol: 'U_dc', unit: 'V', view: 'V', group: 'electrical' },
  { id: 'dcCurrent', name: 'Rectifier current', symbol: 'I_dc', unit: 'A', view: 'A', group: 'electrical' },
  { id: 'batteryVoltage', name: 'Battery voltage', symbol: 'U_b', unit: 'V', view: 'V', group: 'storage' },
  {
    id: 'batteryCurrent',
    name: 'Battery current (+ charging)',
    symbol: 'I_b',
    unit: 'A',
    view: 'A',
    group: 'storage',
  },
  {
    id: 'batteryTemperature',
    name: 'Battery temperature',
    symbol: 't_bt',
    unit: 'K',
    view: 'Cel',
    group: 'storage',
  },
  { id: 'stateOfCharge', name: 'State of charge', symbol: 'SoC', unit: '1', view: '%', group: 'storage' },
  { id: 'dumpVoltage', name: 'Dump load voltage', symbol: 'U_d', unit: 'V', view: 'V', group: 'loads' },
  { id: 'dumpCurrent', name: 'Dump load current', symbol: 'I_d', unit: 'A', view: 'A', group: 'loads' },
  { id: 'dumpPower', name: 'Dump load power', symbol: 'P_d', unit: 'W', view: 'W', group: 'loads' },
  {
    id: 'dumpTemperature',
    name: 'Dump load temperature',
    symbol: 't_d',
    unit: 'K',
    view: 'Cel',
    group: 'condition',
  },
  {
    id: 'inverterInputVoltage',
    name: 'Inverter input voltage',
    symbol: 'U_i',
    unit: 'V',
    view: 'V',
    group: 'loads',
  },
  {
    id: 'inverterInputCurrent',
    name: 'Inverter input current',
    symbol: 'I_i',
    unit: 'A',
    view: 'A',
    group: 'loads',
  },
  {
    id: 'inverterOutputPower',
    name: 'Inverter output power',
    symbol: 'P_o',
    unit: 'W',
    view: 'W',
    group: 'loads',
  },
  { id: 'loadPower', name: 'Power to loads', symbol: 'P_l', unit: 'W', view: 'W', group: 'loads' },
  {
    id: 'loadOn',
    name: 'Load switched on',
    symbol: 'l',
    unit: '1',
    view: '1',
    group: 'loads',
    many: true,
    discrete: true,
  },
  // pump of a rig
  { id: 'pumpSpeed', name: 'Pump drive speed', symbol: 's_p', unit: '1', view: '%', group: 'pump' },
  {
    id: 'pumpInletPressure',
    name: 'Pump suction pressure',
    symbol: 'p_s',
    unit: 'Pa',
    view: 'bar',
    group: 'pump',
  },
  {
    id: 'pumpOutletPressure',
    name: 'Pump delivery pressure',
    symbol: 'p_d',
    unit: 'Pa',
    view: 'bar',
    group: 'pump',
  },
  {
    id: 'pumpInputPower',
    name: 'Pump drive input power',
    symbol: 'P_m',
    unit: 'W',
    view: 'W',
    group: 'pump',
  },
  // switches
  {
    id: 'emergencyStop',
    name: 'Emergency stop pressed',
    symbol: 'es',
    unit: '1',
    view: '1',
    group: 'condition',
    discrete: true,
  },
  {
    id: 'waterOnFloor',
    name: 'Water on the floor',
    symbol: 'wf',
    unit: '1',
    view: '1',
    group: 'condition',
    discrete: true,
  },
  {
    id: 'guardOpen',
    name: 'Guard open',
    symbol: 'go',
    unit: '1',
    view: '1',
    group: 'condition',
    discrete: true,
  },
]

const BY_ID = new Map(ROWS.map((role) => [role.id, role]))

/** All roles, in the order in which a plant is read from water to load. */
export const roles: readonly Role[] = ROWS

/** The role of a quantity id: "jetOpen.2" → the row jetOpen. */
export function roleOf(quantity: string): Role | undefined {
  return BY_ID.get(quantity.split('.')[0]!)
}
