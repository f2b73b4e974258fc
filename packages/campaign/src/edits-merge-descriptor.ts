import type { Descriptor } from "./descriptor.ts";
import { DESCRIPTOR_FILE } from "./descriptor-faults.ts";
import type { CellConflict } from "./edits-conflict.ts";
import { dotted, type KeyPath } from "./key-path.ts";

/** What comes of a descriptor that two sides changed: what to write in its place, where mine is to change it. */
export interface MergedDescriptor {
  readonly changed?: Descriptor;
  readonly conflicts: readonly CellConflict[];
}

/**
 * Merges changes to a descriptor, key by key, and resource by resource of the same name; any other list is one value. What
 * both changed differently stays as they have it. The order of keys is theirs.
 */
export function mergeDescriptor(base: Descriptor, mine: Descriptor, theirs: Descriptor): MergedDescriptor {
  const conflicts: CellConflict[] = [];
  const merged = merge(base, mine, theirs, [], conflicts);
  // where they changed nothing, the order of keys that I have typed counts too
  const changed = isSame(base, theirs) ? mine : (merged as Descriptor);
  return isSame(changed, theirs) ? { conflicts } : { changed, conflicts };
}

type Entries = ReadonlyMap<string, unknown>;

function merge(base: unknown, mine: unknown, theirs: unknown, path: KeyPath, conflicts: CellConflict[]): unknown {
  if (isSame(base, mine) || isSame(mine, theirs)) return theirs;
  if (isSame(base, theirs)) return mine;
  const [here, there] = [entriesOf(mine), entriesOf(theirs)];
  if (here === undefined || there === undefined || Array.isArray(mine) !== Array.isArray(theirs)) {
    const texts = Object.entries({ base, mine, theirs }).filter(([, value]) => value !== undefined);
    const written = Object.fromEntries(texts.map(([side, value]) => [side, JSON.stringify(value)]));
    conflicts.push({ table: DESCRIPTOR_FILE, reading: "", column: dotted(path), ...written });
    return theirs;
  }
  const before: Entries = entriesOf(base) ?? new Map();
  const merged = new Map<string, unknown>();
  for (const key of new Set([...there.keys(), ...here.keys()])) {
    const value = merge(before.get(key), here.get(key), there.get(key), [...path, key], conflicts);
    if (value !== undefined) merged.set(key, value);
  }
  return Array.isArray(theirs) ? [...merged.values()] : Object.fromEntries(merged);
}

/** An object's properties, or the members of a list by their names where each has one of its own. */
function entriesOf(value: unknown): Entries | undefined {
  if (typeof value !== "object" || value === null) return undefined;
  if (!Array.isArray(value)) return new Map(Object.entries(value));
  const named = new Map<string, unknown>();
  for (const member of value as readonly unknown[]) {
    const name = typeof member === "object" && member !== null && "name" in member ? member.name : undefined;
    if (typeof name !== "string" || named.has(name)) return undefined;
    named.set(name, member);
  }
  return named;
}

/** Equal as values, whatever the order of keys. */
function isSame(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}
