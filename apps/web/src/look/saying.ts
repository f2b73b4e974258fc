/** Something the page has to say by the way. */
export interface Saying {
  readonly id: number;
  readonly words: string;
  /** What may be done about it: undo. */
  readonly way?: { readonly words: string; readonly go: () => void };
}

/** So many are seen at once; older ones give way. */
const SEEN = 3;

let said: readonly Saying[] = [];
let next = 1;
const watchers = new Set<() => void>();

/** Says something; it is shown in a corner and read out. */
export function say(words: string, way?: Saying["way"]): void {
  const saying: Saying = { id: next++, words, ...(way && { way }) };
  change([...said.filter((other) => other.words !== words), saying].slice(-SEEN));
}

/** Puts one away. */
export function dismiss(id: number): void {
  change(said.filter((saying) => saying.id !== id));
}

/** What is said now, the newest last; the same list until something changes. */
export function sayings(): readonly Saying[] {
  return said;
}

/** Calls back whenever something is said or put away; returns what ends it. */
export function watchSayings(watcher: () => void): () => void {
  watchers.add(watcher);
  return () => watchers.delete(watcher);
}

function change(now: readonly Saying[]): void {
  said = now;
  for (const watcher of watchers) watcher();
}
