/**
 * Numbers that are the same at every plant. The only values the simulator may share with the server's formulas.
 */

/** Standard gravity [m/s²], exact by definition. Source: CGPM 1901. Local gravity: `gravity.ts`. */
export const STANDARD_GRAVITY = 9.80665

/** 0 °C in kelvin, exact by definition. Source: SI brochure. */
export const ZERO_CELSIUS = 273.15

/** Standard atmosphere [Pa], exact by definition. Source: CGPM 1954. */
export const STANDARD_ATMOSPHERE = 101_325

/** One metric horsepower [W], 75 kgf·m/s. Older specific-speed tables use it. */
export const METRIC_HORSEPOWER = 735.49875

/** Speed of one revolution per minute [rad/s]. Multiply to go to SI, divide to read min⁻¹. */
export const REVOLUTION_PER_MINUTE = (2 * Math.PI) / 60
