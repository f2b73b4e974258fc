import { COLOURS } from "@alcedo-dosimetry/figures";

/** What a colour of the page is for. The first seven are the roles of figures, so that page and picture are one. */
export const TOKENS = [
  "paper",
  "ink",
  "muted",
  "grid",
  "attention",
  "channel-1",
  "channel-2",
  "page",
  "well",
  "edge",
  "wash",
] as const;

/** See {@link TOKENS}. */
export type Token = (typeof TOKENS)[number];

/** The page is lit by day and dark in the treatment console room. */
export const PAGE_THEMES = ["light", "dark"] as const;

/** See {@link PAGE_THEMES}. */
export type PageTheme = (typeof PAGE_THEMES)[number];

/** Every colour of the page as `#rrggbb`; `tokens.css` declares the same, which a test holds it to. */
export const PALETTE: Readonly<Record<PageTheme, Readonly<Record<Token, string>>>> = {
  light: { ...COLOURS.light, page: "#f5f1e6", well: "#efe9da", edge: "#817b6d", wash: "#f8e9df" },
  dark: { ...COLOURS.dark, page: "#10161a", well: "#0a0f12", edge: "#7b8891", wash: "#33261f" },
};

/** Least contrast of words against their ground (WCAG 2.2, 1.4.3, level AA). */
const FOR_TEXT = 4.5;
/** Least contrast of what tells a control or a state (WCAG 2.2, 1.4.11). */
const FOR_SHAPES = 3;

/** A colour that is seen on another, and how far the two must stand apart. */
export interface Pair {
  readonly on: Token;
  readonly seen: Token;
  readonly least: number;
  /** Where the page does so. */
  readonly where: string;
}

const text = (seen: Token, on: Token, where: string): Pair => ({ on, seen, least: FOR_TEXT, where });
const shape = (seen: Token, on: Token, where: string): Pair => ({ on, seen, least: FOR_SHAPES, where });

/** Every pair that the style sheets use; whoever makes a new one adds it here. */
export const PAIRS: readonly Pair[] = [
  ...(["page", "paper", "well", "wash"] as const).flatMap((ground) => [
    text("ink", ground, "words"),
    text("muted", ground, "words of second rank"),
    text("attention", ground, "what asks to be looked at, the way upstream; the ring of the focus lies on it too"),
    text("channel-1", ground, "readings of the first channel"),
    text("channel-2", ground, "readings of the second channel"),
  ]),
  text("paper", "ink", "the main button of a page"),
  text("paper", "attention", "a mark with a letter in it"),
  shape("edge", "page", "the frame of a field"),
  shape("edge", "paper", "the frame of a field"),
  shape("edge", "well", "the frame of a field"),
];
