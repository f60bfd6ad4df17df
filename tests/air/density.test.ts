import { describe, expect, test } from 'vitest'
import { airAt } from '#air/density.ts'

describe('air at temperature and altitude', () => {
  // ISO 2533, Standard Atmosphere (also the ICAO tables): height, temperature, density, viscosity; from memory
  test.each([[0, 15, 1.2250, 1.7894e-5], [500, 11.75, 1.1673, 1.7737e-5], [1000, 8.5, 1.1116, 1.7579e-5], [2000, 2, 1.0065, 1.7260e-5], [3000, -4.5, 0.9091, 1.6938e-5]])('%d m up at %d °C', (altitudeM, airC, density, viscosity) => {
    const air = airAt(airC, altitudeM)
    expect(Math.abs(air.density - density)).toBeLessThan(1.5e-4)
    expect(Math.abs(air.viscosity / viscosity - 1)).toBeLessThan(2e-4)
  })
  // Çengel, Table A-9 (20 °C from memory; 35 °C read in Example 8-4): another table of viscosities, so within a hundredth
  test.each([[20, 1.204, 1.825e-5], [35, 1.145, 1.895e-5]])('at %d °C is that of the property tables', (airC, density, viscosity) => {
    const air = airAt(airC, 0)
    expect(Math.abs(air.density - density)).toBeLessThan(1e-3)
    expect(Math.abs(air.viscosity / viscosity - 1)).toBeLessThan(0.01)
  })
})
