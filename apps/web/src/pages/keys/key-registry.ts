/** A key and what it does on the page that is open. */
export interface KeyLine {
  /** What is pressed, as the browser names it, modifiers first: `?`, `Escape`, `Control+z`. Several for the same: `ArrowUp ArrowDown`. */
  readonly press: string;
  readonly does: string;
  /** What happens; absent where a control sees to it by itself and the list only tells of it. */
  readonly run?: () => void;
  /** Works while a field has the focus as well; single letters must not, or nobody could type them. */
  readonly inFields?: boolean;
}

/** The keys of one part of the page. */
export interface KeyGroup {
  readonly title: string;
  readonly lines: readonly KeyLine[];
  /** In force on every page: any page's own keys answer first, whichever came before. */
  readonly everywhere?: true;
}

/** What of a keyboard event tells which key it was. */
export interface Pressed {
  readonly key: string;
  readonly ctrlKey?: boolean;
  readonly metaKey?: boolean;
  readonly altKey?: boolean;
  readonly shiftKey?: boolean;
}

let groups: readonly KeyGroup[] = [];
const watchers = new Set<() => void>();

/**
 * Puts the keys of a part of the page on the list and into force; the newest group answers first. Returns what takes them
 * off again.
 *
 * @throws Error where a group has a key twice.
 */
export function registerKeys(group: KeyGroup): () => void {
  const presses = group.lines.flatMap(({ press }) => press.split(" "));
  const twice = presses.find((press, k) => presses.indexOf(press) !== k);
  if (twice !== undefined) throw new Error(`${group.title}: the key ${twice} is there twice`);
  change(group.everywhere ? [group, ...groups] : [...groups, group]);
  return () => change(groups.filter((other) => other !== group));
}

/** The keys in force, part by part, in the order in which they came; the same list until something changes. */
export function keyGroups(): readonly KeyGroup[] {
  return groups;
}

/** Calls back when the list changes; returns what ends it. */
export function watchKeys(watcher: () => void): () => void {
  watchers.add(watcher);
  return () => watchers.delete(watcher);
}

/** The line that a key belongs to, the newest group's first; undefined where none is on the list or none may act here. */
export function lineFor(pressed: Pressed, inField: boolean): KeyLine | undefined {
  const name = nameOf(pressed);
  for (const { lines } of groups.toReversed()) {
    const line = lines.find(({ press }) => press.split(" ").includes(name));
    if (line) return line.run !== undefined && (!inField || line.inFields === true) ? line : undefined;
  }
  return undefined;
}

/** `Control+z` for a key with its modifiers; Shift only where it does not make another character of it. */
export function nameOf({ key, ctrlKey, metaKey, altKey, shiftKey }: Pressed): string {
  return [
    ctrlKey === true || metaKey === true ? "Control+" : "",
    altKey === true ? "Alt+" : "",
    shiftKey === true && key.length > 1 ? "Shift+" : "",
    key.length === 1 && (ctrlKey === true || metaKey === true) ? key.toLowerCase() : key,
  ].join("");
}

const PRINTED: Readonly<Record<string, string>> = {
  ...{ ArrowUp: "↑", ArrowDown: "↓", ArrowLeft: "←", ArrowRight: "→" },
  ...{ Escape: "Esc", Control: "Ctrl", " ": "Space", PageUp: "Page ↑", PageDown: "Page ↓" },
};

/** The keys of a line as they are printed on them: `Ctrl z`, `↑`. */
export function printed(press: string): readonly (readonly string[])[] {
  return press.split(" ").map((one) => one.split(/(?<=.)\+/).map((part) => PRINTED[part] ?? part));
}

function change(now: readonly KeyGroup[]): void {
  groups = now;
  for (const watcher of watchers) watcher();
}
