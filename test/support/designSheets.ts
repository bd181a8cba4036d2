/**
 * The design sheets of our own fictional sites, as tables. They were worked out by a calculation of their own, apart
 * from simulator and server, and show that both are what the sheets say; they are no measurement of a real machine.
 */

/** Quennerby, 24 m held: jets, Q L/s, P_h W, η_t, shaft W, T N·m, V_ph, I A, P_ac W, η_g, DC W, pump speed, mains W. */
export const RIG_AT_CONSTANT_HEAD = [
  [1, 0.901, 212, 0.62, 131, 0.836, 26.7, 1.13, 90.3, 0.688, 84.0, 0.843, 914],
  [2, 1.802, 424, 0.685, 290, 1.847, 26.1, 3.1, 242, 0.835, 225, 0.877, 1135],
  [3, 2.703, 635, 0.7, 445, 2.831, 25.4, 5.03, 384, 0.862, 357, 0.93, 1456],
  [4, 3.605, 847, 0.7, 593, 3.775, 24.7, 6.92, 513, 0.865, 477, 1.0, 1897],
] as const

/** Quennerby at 50 Hz on a resistive load: A and V of a phase. k_e 18 mV per min⁻¹, R 0.28 Ω, L 2.0 mH, 2 pole pairs. */
export const RIG_VOLTAGE_OVER_CURRENT = [
  [0, 27.0],
  [1, 26.71],
  [2, 26.41],
  [3, 26.09],
  [4, 25.76],
  [5, 25.42],
  [6, 25.06],
  [7, 24.68],
  [8, 24.29],
  [9, 23.88],
  [10, 23.46],
  [12, 22.57],
] as const

/** Ostrelby: openings of both spears in %, Q L/s, kW, net head m. */
export const OFF_GRID_BY_SPEARS = [
  [100, 100, 44.3, 15.0, 48.0],
  [75, 75, 33.6, 11.49, 49.25],
  [50, 50, 22.6, 7.26, 50.22],
  [100, 0, 22.6, 7.83, 50.22],
  [75, 0, 17.0, 5.72, 50.58],
  [50, 0, 11.4, 3.51, 50.85],
] as const

/** Skelderwath: share of rated discharge, Q m³/s, net head m, kW, efficiency from water at net head to wire. */
export const MILL_AT_PART_LOAD = [
  [1.0, 0.632, 20.0, 90.0, 0.726],
  [0.85, 0.538, 20.16, 77.6, 0.73],
  [0.67, 0.424, 20.32, 60.2, 0.71],
  [0.5, 0.316, 20.44, 43.8, 0.69],
  [0.33, 0.209, 20.52, 27.3, 0.65],
  [0.25, 0.158, 20.55, 18.0, 0.565],
  [0.15, 0.095, 20.58, 8.8, 0.46],
] as const
