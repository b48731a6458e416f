/**
 * Factor from the resistance of copper at 20 °C to that at another temperature:
 * (234.5 + t) / 254.5 (IEC 60228, correction formula, from memory). 1 at 20 °C.
 *
 * @param temperatureC temperature of the wire, °C
 */
export function copperFactor(temperatureC: number): number {
  return (234.5 + temperatureC) / 254.5;
}
