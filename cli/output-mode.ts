/** Whether results and failures go to standard output as JSON, as a site file may ask too. */
let json = false;

export function wantJson(): void {
  json = true;
}

export function isJsonWanted(): boolean {
  return json;
}
