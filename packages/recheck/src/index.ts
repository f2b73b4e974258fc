export { type Agreement, agreement } from "./agreement.ts";
export { type Recheck, type RecheckedQuantity, type RecheckOptions, recheck } from "./recheck.ts";
export { type SideBySideRow, sideBySide } from "./side-by-side.ts";
export type { ActiveVolume } from "./volume-averaging.ts";
