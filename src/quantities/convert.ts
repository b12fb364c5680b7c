/** Metres in a foot: the international foot of 1959, exact (NIST SP 811:2008, appendix B.6). */
export const METRES_PER_FOOT = 0.3048

/** Metres in an inch: a twelfth of the international foot, exact (NIST SP 811:2008, appendix B.6). */
export const METRES_PER_INCH = 0.0254

/** Cubic centimetres in a cubic inch: 2.54³, exact (NIST SP 811:2008, appendix B.6). */
export const CM3_PER_CUBIC_INCH = 16.387064

/** Lux in a foot-candle: one lumen to the square foot, 1 / 0.3048² (IES definition; 10.76391 in NIST SP 811:2008). */
export const LUX_PER_FOOT_CANDLE = 1 / METRES_PER_FOOT ** 2

/**
 * Degrees Fahrenheit of a Celsius temperature: `F = 1.8 C + 32` (NIST SP 811:2008, section B.6).
 *
 * @param degC temperature in °C
 * @returns temperature in °F
 */
export function fahrenheit(degC: number): number {
  return 1.8 * degC + 32
}
