/**
 * What a colour is for. Drawings speak of roles alone, so that one drawing serves every theme.
 *
 * - `paper` the ground, also what covers something behind
 * - `ink` text and marks; `muted` text and marks of second rank
 * - `grid` lines that only guide the eye, and areas that something else delimits as well
 * - `attention` what asks to be looked at
 * - `channel-1`, `channel-2` the two light channels, and nothing else
 */
export const ROLES = ["paper", "ink", "muted", "grid", "attention", "channel-1", "channel-2"] as const;

/** See {@link ROLES}. */
export type Role = (typeof ROLES)[number];

/** Roles of text and marks, which must stand out from paper; `grid` need not. */
export const READABLE_ROLES = [
  "ink",
  "muted",
  "attention",
  "channel-1",
  "channel-2",
] as const satisfies readonly Role[];
