import type { Role } from "./role.ts";

/** A light page, a dark room, or paper: then also legible without colour. */
export const THEMES = ["light", "dark", "print"] as const;

/** See {@link THEMES}. */
export type Theme = (typeof THEMES)[number];

/** The colours of each theme, as `#rrggbb`. */
export const COLOURS: Readonly<Record<Theme, Readonly<Record<Role, string>>>> = {
  light: {
    paper: "#fffef9",
    ink: "#1c2530",
    muted: "#5f6468",
    grid: "#e0dac9",
    attention: "#b1481a",
    "channel-1": "#1d62ad",
    "channel-2": "#1c7849",
  },
  dark: {
    paper: "#182026",
    ink: "#ece7da",
    muted: "#a3abb0",
    grid: "#33404a",
    attention: "#f39058",
    "channel-1": "#68aef2",
    "channel-2": "#61cc98",
  },
  // the channels differ in lightness too: a printer without colour turns them into a dark and a middle grey
  print: {
    paper: "#ffffff",
    ink: "#000000",
    muted: "#4d4d4d",
    grid: "#cfcfcf",
    attention: "#8c2f06",
    "channel-1": "#123a6b",
    "channel-2": "#2f7d55",
  },
};
