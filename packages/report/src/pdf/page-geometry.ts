import { COLOURS } from "@alcedo-dosimetry/figures";

/** A4 upright, in points of 1/72 inch. */
export const PAGE = { width: 595.28, height: 841.89, left: 46, right: 46, top: 58, bottom: 56 } as const;

/** Width of the text. */
export const WIDTH = PAGE.width - PAGE.left - PAGE.right;

/** Where text ends at the foot of a page. */
export const FOOT = PAGE.height - PAGE.bottom;

/** The colours of paper, legible without colour too. */
export const INK = {
  text: COLOURS.print.ink,
  muted: COLOURS.print.muted,
  attention: COLOURS.print.attention,
  rule: "#b8b8b8",
  tint: "#ececec",
  channels: [COLOURS.print["channel-1"], COLOURS.print["channel-2"]],
} as const;
