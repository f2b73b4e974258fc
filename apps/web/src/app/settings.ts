import { useSyncExternalStore } from "react";
import type { DecimalSign } from "../look/decimal-sign.ts";

/** What a person chooses about the page; it stays in the browser. */
export interface Settings {
  readonly theme: "system" | "light" | "dark";
  readonly decimal: DecimalSign;
}

const KEY = "alcedo-settings";
const DEFAULTS: Settings = { theme: "system", decimal: "." };

let settings: Settings = read();
const watchers = new Set<() => void>();

function read(): Settings {
  try {
    return settingsOf(JSON.parse(localStorage.getItem(KEY) ?? "{}"));
  } catch {
    return DEFAULTS; // storage is closed to this page, or holds what is no JSON: it begins anew
  }
}

/** Settings out of what was stored, whatever it is: what does not fit is as it is for a new person. */
export function settingsOf(stored: unknown): Settings {
  const { theme, decimal } = (typeof stored === "object" && stored !== null ? stored : {}) as Partial<Settings>;
  return {
    theme: theme === "light" || theme === "dark" ? theme : DEFAULTS.theme,
    decimal: decimal === "," ? "," : DEFAULTS.decimal,
  };
}

/** Changes settings, at once and for the next time. */
export function changeSettings(change: Partial<Settings>): void {
  settings = { ...settings, ...change };
  try {
    localStorage.setItem(KEY, JSON.stringify(settings));
  } catch {
    // storage is closed to this page: the choice holds until it is left
  }
  show();
  for (const watcher of watchers) watcher();
}

/** Puts the theme on the page. */
export function show(): void {
  const root = document.documentElement;
  if (settings.theme === "system") delete root.dataset["theme"];
  else root.dataset["theme"] = settings.theme;
}

/** The settings, for a component. */
export function useSettings(): Settings {
  return useSyncExternalStore(
    (watcher) => {
      watchers.add(watcher);
      return () => watchers.delete(watcher);
    },
    () => settings,
  );
}
