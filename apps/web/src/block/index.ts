/** Blocks from a spreadsheet, without a browser. */
export { type BlockRows, blockRows, type Taking } from "./block-table.ts";
export { type Block, type BlockFault, decimalOf, parseBlock } from "./parse-block.ts";
export { type Mapping, type Remembered, recognise } from "./recognise.ts";
