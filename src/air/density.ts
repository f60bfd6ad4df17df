/**
 * The air in the ducts: dry air as an ideal gas in the ICAO standard atmosphere. Moisture is left out: at 20 °C and 60 %
 * relative humidity it makes air 0.6 % lighter than this.
 */

/** pressure at sea level, Pa, and the specific gas constant of dry air, J/(kg K): ISO 2533, Standard Atmosphere */
const SEA_LEVEL_PA = 101_325
const GAS_CONSTANT = 287.05287
const FREEZING_K = 273.15
/** the density that makers' pressure drops and fan curves are commonly given for, kg/m³ */
export const RATED_DENSITY = 1.2

export interface Air {
  /** kg/m³ */
  readonly density: number
  /** dynamic viscosity, Pa s */
  readonly viscosity: number
}

/**
 * @param airC temperature, °C
 * @param altitudeM above the sea; pressure from ISO 2533 below 11 km, 101325 (1 - 2.25577e-5 h)^5.25588 Pa
 *   (also ASHRAE Handbook Fundamentals, Psychrometrics, eq. 3); viscosity by Sutherland's formula with the constants of ISO 2533
 */
export function airAt(airC: number, altitudeM: number): Air {
  const kelvin = airC + FREEZING_K
  const pressurePa = SEA_LEVEL_PA * (1 - 2.25577e-5 * altitudeM) ** 5.25588
  return { density: pressurePa / (GAS_CONSTANT * kelvin), viscosity: 1.458e-6 * kelvin ** 1.5 / (kelvin + 110.4) }
}
