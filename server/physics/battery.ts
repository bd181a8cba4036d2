/** State of charge. A counted value is never clamped: 1.03 shows that the count has drifted and needs an anchor. */
import { interpolate, type PointCurve } from './interpolate.ts'

const TENTHS = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1]

/** LiFePO4 cell at rest [V]; from a cell data sheet through a public battery header. A guide only. */
const LFP_CELL: PointCurve = {
  x: TENTHS,
  y: [2.013, 3.068, 3.159, 3.194, 3.21, 3.221, 3.229, 3.246, 3.256, 3.262, 3.348],
}

/** Flooded 12 V lead-acid battery at rest, 25 °C [V] (from memory). A guide only. */
const LEAD_ACID_12V: PointCurve = {
  x: TENTHS.slice(1),
  y: [11.51, 11.66, 11.81, 11.96, 12.1, 12.24, 12.37, 12.5, 12.62, 12.73],
}

/**
 * One step of coulomb counting:  SoC + η_c·I·t/C while charging, SoC + I·t/C while discharging
 *
 * @param stateOfCharge SoC before the step [–].
 * @param current I [A], positive = charging.
 * @param seconds Length of the step t [s].
 * @param capacity C [C]; ampere-hours times 3600.
 * @param chargeEfficiency Coulombic efficiency η_c [–], about 0.99 LFP, 0.85–0.95 lead-acid.
 * @returns SoC after the step [–], not clamped.
 *
 * Limits: drifts with the current sensor's offset; anchor at full charge.
 * Example: 0.80, +10 A for 2 h, 100 Ah, 0.95 → 0.99; then −15 A for 3 h → 0.54.
 * Source: charge balance; common practice.
 */
export function coulombStep(
  stateOfCharge: number,
  current: number,
  seconds: number,
  capacity: number,
  chargeEfficiency: number,
): number {
  const counted = current > 0 ? chargeEfficiency * current : current
  return stateOfCharge + (counted * seconds) / capacity
}

/**
 * Rest voltage of a LiFePO4 cell, linear between tenths of charge.
 *
 * @param stateOfCharge SoC [–].
 * @returns Cell voltage at rest [V]. NaN outside 0–1.
 *
 * Limits: at rest for hours, 25 °C, a guide only.
 * Example: 0.45 → 3.2155.
 * Source: cell data sheet table in zephyrproject-rtos/zephyr, dt-bindings/battery/battery.h.
 */
export function lithiumCellVoltage(stateOfCharge: number): number {
  return interpolate(LFP_CELL, stateOfCharge)
}

/**
 * State of charge of a LiFePO4 cell from its rest voltage.
 *
 * @param restVoltage Cell voltage at rest [V].
 * @returns SoC [–]. NaN outside 2.013–3.348 V. On the plateau 1 mV is 1 %: do not use it between 20 and 90 %.
 *
 * Limits: as `lithiumCellVoltage`.
 * Example: 3.2155 → 0.45.
 * Source: cell data sheet table in zephyrproject-rtos/zephyr, dt-bindings/battery/battery.h.
 */
export function lithiumStateOfCharge(restVoltage: number): number {
  return interpolate({ x: LFP_CELL.y, y: LFP_CELL.x }, restVoltage)
}

/**
 * Rest voltage of a flooded 12 V lead-acid battery, linear between tenths of charge.
 *
 * @param stateOfCharge SoC [–].
 * @returns Battery voltage at rest [V]. NaN outside 0.1–1.
 *
 * Limits: at rest for hours, 25 °C, a guide only.
 * Example: 0.55 → 12.17.
 * Source: trade practice table, from memory.
 */
export function leadAcidVoltage(stateOfCharge: number): number {
  return interpolate(LEAD_ACID_12V, stateOfCharge)
}

/**
 * State of charge of a flooded 12 V lead-acid battery from its rest voltage.
 *
 * @param restVoltage Battery voltage at rest [V].
 * @returns SoC [–]. NaN outside 11.51–12.73 V.
 *
 * Limits: as `leadAcidVoltage`.
 * Example: 12.10 → 0.5.
 * Source: trade practice table, from memory.
 */
export function leadAcidStateOfCharge(restVoltage: number): number {
  return interpolate({ x: LEAD_ACID_12V.y, y: LEAD_ACID_12V.x }, restVoltage)
}
