/** Figures as they stand on drawings: rounded as the summary for people rounds them. */

/** Degrees with five decimals: a metre. */
export function degreesText(lonDeg: number, latDeg: number): { lat: string; lon: string } {
  return {
    lat: `${Math.abs(latDeg).toFixed(5)}° ${latDeg < 0 ? "S" : "N"}`,
    lon: `${Math.abs(lonDeg).toFixed(5)}° ${lonDeg < 0 ? "W" : "E"}`,
  };
}
