/**
 * Numbers that are the same at every plant. The only values the simulator may share with the server's formulas.
 */

/** 0 °C in kelvin, exact by definition. Source: SI brochure. */
export const ZERO_CELSIUS = 273.15

/** Speed of one revolution per minute [rad/s]. Multiply to go to SI, divide to read min⁻¹. */
export const REVOLUTION_PER_MINUTE = (2 * Math.PI) / 60
