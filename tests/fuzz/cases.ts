/** What the command of the fuzzer needs of it. */
export { caseOf, readCase } from "./run-case.ts";
export { TARGETS } from "./targets.ts";
