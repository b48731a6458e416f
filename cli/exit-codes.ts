/** What the exit code tells a script (docs/commands/exit-codes.md). */
export const EXIT = {
  /** Done. */
  fine: 0,
  /** Done, but a finding of severity `error` stands. */
  errorStands: 1,
  /** Wrong use: arguments, profile, output folder. */
  usage: 2,
  /** An input cannot be read or is unusable. */
  input: 3,
  /** A fault of the program. */
  fault: 4,
} as const;

/** Exit code of a finished command. */
export function exitOf(findings: readonly { readonly severity: string }[]): number {
  return findings.some((one) => one.severity === "error") ? EXIT.errorStands : EXIT.fine;
}
