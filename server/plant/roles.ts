import type { FigureGroup } from '../wire/figure.ts'

/** What is special about a role. */
interface RoleTraits {
  /** A suffix .1, .2 … tells several apart. */
  many?: true
  /** A state, not an amount: 0 or 1. */
  discrete?: true
  /** Counts up for ever. */
  counter?: true
  /** Of a contact: which of the words "open" and "closed" is 1, where they say it. */
  isOneWhen?: 'open' | 'closed'
  /** What nothing holds back: it may come and go between two readings, so that one reading alone is no spike. */
  bursts?: true
}

/**
 * What an instrument can measure. An instrument's `role` names one row; several of one kind are told apart
 * by a suffix, e.g. jetOpen.1 … jetOpen.4. The unit is the SI unit inside; `view` is what people read.
 */
export interface Role extends RoleTraits {
  id: string
  name: string
  symbol: string
  unit: string
  view: string
  group: FigureGroup
}

/** One row: id, name, symbol, SI unit, unit people read, group, and what is special about it. */
function role(
  ...[id, name, symbol, unit, view, group, special]: [
    string,
    string,
    string,
    string,
    string,
    FigureGroup,
    RoleTraits?,
  ]
): Role {
  return { id, name, symbol, unit, view, group, ...special }
}

const ROWS: Role[] = [
  // water
  role('headwaterLevel', 'Headwater level', 'z_hw', 'm', 'm', 'water'),
  role('rackUpstreamLevel', 'Level before the rack', 'z_up', 'm', 'm', 'water'),
  role('tailwaterLevel', 'Tailwater level', 'z_tw', 'm', 'm', 'water'),
  role('riverLevel', 'River level', 'z_rv', 'm', 'm', 'water'),
  role('sumpLevel', 'Sump level', 'z_su', 'm', 'm', 'water'),
  role('discharge', 'Discharge', 'Q', 'm3/s', 'L/s', 'water'),
  role('residualFlow', 'Residual flow', 'Q_res', 'm3/s', 'L/s', 'water'),
  role('waterMeter', 'Water meter reading', 'V_m', 'm3', 'm3', 'water', { counter: true }),
  role('weirHead', 'Head over the weir', 'h_w', 'm', 'm', 'water'),
  role('meterPressureDifference', 'Flow meter differential pressure', 'Δp', 'Pa', 'kPa', 'water'),
  role('indexPressureDifference', 'Differential pressure of the index taps', 'Δp_i', 'Pa', 'kPa', 'water'),
  role('waterTemperature', 'Water temperature', 't_w', 'K', 'Cel', 'water'),
  role('rackDifferential', 'Trash-rack differential', 'Δh_r', 'm', 'm', 'water'),
  role('spillFlow', 'Flow over the spillway', 'Q_s', 'm3/s', 'L/s', 'water'),
  role('rainfall', 'Rainfall', 'r', 'm/s', 'mm/h', 'water', { bursts: true }),
  role('airPressure', 'Air pressure', 'p_a', 'Pa', 'hPa', 'water'),
  // head
  role('inletPressure', 'Turbine inlet pressure', 'p', 'Pa', 'bar', 'head'),
  role('draftTubePressure', 'Draft-tube pressure (gauge)', 'p_dt', 'Pa', 'kPa', 'head'),
  role('grossHead', 'Gross head', 'H_g', 'm', 'm', 'head'),
  // machine
  role('speed', 'Speed', 'n', 'rad/s', '/min', 'machine'),
  role('turbineSpeed', 'Turbine speed', 'n_t', 'rad/s', '/min', 'machine'),
  role('torque', 'Shaft torque', 'T', 'N.m', 'N.m', 'machine'),
  role('turbineTorque', 'Torque of the turbine shaft', 'T_t', 'N.m', 'N.m', 'machine'),
  role('jetOpen', 'Jet open', 'j', '1', '1', 'machine', { many: true, discrete: true, isOneWhen: 'open' }),
  role('needleStroke', 'Needle stroke', 's', '1', '%', 'machine', { many: true }),
  role('guideVaneOpening', 'Guide vane opening', 'a', '1', '%', 'machine', { many: true }),
  role('deflector', 'Deflector in the jet', 'd', '1', '1', 'machine', { discrete: true }),
  role('inletValve', 'Inlet valve open', 'v', '1', '1', 'machine', { discrete: true, isOneWhen: 'open' }),
  role('vibration', 'Vibration', 'v_rms', 'm/s', 'mm/s', 'condition', { many: true, bursts: true }),
  role('bearingTemperature', 'Bearing temperature', 't_b', 'K', 'Cel', 'condition', { many: true }),
  role('windingTemperature', 'Winding temperature', 't_wd', 'K', 'Cel', 'condition', { many: true }),
  role('oilTemperature', 'Oil temperature', 't_o', 'K', 'Cel', 'condition'),
  role('oilLevel', 'Oil level', 'l_o', '1', '%', 'condition'),
  role('oilPressure', 'Oil pressure', 'p_o', 'Pa', 'bar', 'condition'),
  role('governorPosition', 'Governor position', 'y_g', '1', '%', 'machine'),
  role('brakeOn', 'Brake applied', 'bk', '1', '1', 'machine', { discrete: true }),
  role('ambientTemperature', 'Ambient temperature', 't_a', 'K', 'Cel', 'condition'),
  // electrical
  role('activePower', 'Active power', 'P', 'W', 'W', 'electrical'),
  role('reactivePower', 'Reactive power (+ delivered)', 'Q_r', 'var', 'var', 'electrical'),
  role('powerFactor', 'Power factor', 'λ', '1', '1', 'electrical'),
  role('frequency', 'Electrical frequency', 'f', 'Hz', 'Hz', 'electrical'),
  role('phaseVoltage', 'Phase voltage', 'U', 'V', 'V', 'electrical', { many: true }),
  role('phaseCurrent', 'Phase current', 'I', 'A', 'A', 'electrical', { many: true, bursts: true }),
  role('lineVoltage', 'Voltage between phases', 'U_l', 'V', 'V', 'electrical', { many: true }),
  role('voltageAngle', 'Angle of a phase voltage to that of phase 1', 'φ_U', 'rad', 'deg', 'electrical', {
    many: true,
  }),
  role('displacementFactor', 'Displacement factor cos φ₁', 'cos φ₁', '1', '1', 'electrical'),
  role('voltageDistortion', 'Voltage distortion', 'THD_U', '1', '%', 'electrical', { many: true }),
  role('currentDistortion', 'Current distortion', 'THD_I', '1', '%', 'electrical', { many: true }),
  role('terminalLoadPower', 'Power to resistors on the terminals', 'P_t', 'W', 'W', 'electrical'),
  role('breakerClosed', 'Breaker closed', 'br', '1', '1', 'electrical', {
    discrete: true,
    isOneWhen: 'closed',
  }),
  role('energyMeter', 'Energy meter reading', 'E_m', 'J', 'kW.h', 'energy', { counter: true }),
  role('gridPower', 'Power to the grid (+ delivered)', 'P_g', 'W', 'W', 'electrical', { bursts: true }),
  role('gridVoltage', 'Grid voltage', 'U_g', 'V', 'V', 'electrical', { many: true }),
  role('gridFrequency', 'Grid frequency', 'f_g', 'Hz', 'Hz', 'electrical'),
  role('exportMeter', 'Export meter reading', 'E_ex', 'J', 'kW.h', 'energy', { counter: true }),
  role('importMeter', 'Import meter reading', 'E_im', 'J', 'kW.h', 'energy', { counter: true }),
  role('reactiveEnergyMeter', 'Reactive energy meter reading', 'E_q', 'var.s', 'kvar.h', 'energy', {
    counter: true,
  }),
  role('gridConnected', 'Grid connected', 'g_c', '1', '1', 'electrical', { discrete: true }),
  role('tripped', 'Protection tripped', 'tr', '1', '1', 'condition', { many: true, discrete: true }),
  // direct-current side and storage
  role('dcVoltage', 'Rectifier voltage', 'U_dc', 'V', 'V', 'electrical', { bursts: true }),
  role('dcCurrent', 'Rectifier current', 'I_dc', 'A', 'A', 'electrical', { bursts: true }),
  role('batteryVoltage', 'Battery voltage', 'U_b', 'V', 'V', 'storage', { bursts: true }),
  role('batteryCurrent', 'Battery current (+ charging)', 'I_b', 'A', 'A', 'storage', { bursts: true }),
  role('batteryTemperature', 'Battery temperature', 't_bt', 'K', 'Cel', 'storage'),
  role('cellVoltage', 'Cell voltage', 'U_c', 'V', 'V', 'storage', { many: true, bursts: true }),
  role('stateOfCharge', 'State of charge', 'SoC', '1', '%', 'storage'),
  role('dumpVoltage', 'Dump load voltage', 'U_d', 'V', 'V', 'loads', { bursts: true }),
  role('dumpCurrent', 'Dump load current', 'I_d', 'A', 'A', 'loads', { bursts: true }),
  role('dumpPower', 'Dump load power', 'P_d', 'W', 'W', 'loads', { bursts: true }),
  role('dumpTemperature', 'Dump load temperature', 't_d', 'K', 'Cel', 'condition'),
  role('inverterInputVoltage', 'Inverter input voltage', 'U_i', 'V', 'V', 'loads', { bursts: true }),
  role('inverterInputCurrent', 'Inverter input current', 'I_i', 'A', 'A', 'loads', { bursts: true }),
  role('inverterOutputPower', 'Inverter output power', 'P_o', 'W', 'W', 'loads', { bursts: true }),
  role('dcLoadVoltage', 'Voltage of direct-current loads', 'U_dl', 'V', 'V', 'loads', { bursts: true }),
  role('dcLoadCurrent', 'Current of direct-current loads', 'I_dl', 'A', 'A', 'loads', { bursts: true }),
  role('dcLoadPower', 'Power to direct-current loads', 'P_dl', 'W', 'W', 'loads', { bursts: true }),
  role('auxiliaryPower', 'Power that the plant itself uses', 'P_x', 'W', 'W', 'loads', { bursts: true }),
  role('loadPower', 'Power to loads', 'P_l', 'W', 'W', 'loads', { bursts: true }),
  role('loadOn', 'Load switched on', 'l', '1', '1', 'loads', { many: true, discrete: true }),
  role('loadShed', 'Load shed', 'l_s', '1', '1', 'loads', { many: true, discrete: true }),
  // pump of a rig
  role('throttleOpening', 'Throttle valve open', 's_v', '1', '%', 'pump'),
  role('pumpSpeed', 'Pump drive speed', 's_p', '1', '%', 'pump'),
  role('pumpInletPressure', 'Pump suction pressure', 'p_s', 'Pa', 'bar', 'pump'),
  role('pumpOutletPressure', 'Pump delivery pressure', 'p_d', 'Pa', 'bar', 'pump'),
  role('pumpInputPower', 'Pump drive input power', 'P_m', 'W', 'W', 'pump'),
  // switches
  role('emergencyStop', 'Emergency stop pressed', 'es', '1', '1', 'condition', { discrete: true }),
  role('guardOpen', 'Guard open', 'go', '1', '1', 'condition', { discrete: true, isOneWhen: 'open' }),
  role('doorOpen', 'Door open', 'do', '1', '1', 'condition', { discrete: true, isOneWhen: 'open' }),
  role('waterOnFloor', 'Water on the floor', 'wf', '1', '1', 'condition', { discrete: true }),
]

const BY_ID = new Map(ROWS.map((role) => [role.id, role]))

/** All roles, in the order in which a plant is read from water to load. */
export const roles: readonly Role[] = ROWS

/** The role of a quantity id: "jetOpen.2" → the row jetOpen. */
export function roleOf(quantity: string): Role | undefined {
  return BY_ID.get(quantity.split('.')[0]!)
}
