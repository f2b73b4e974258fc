const known = new WeakMap<object, Map<string, unknown>>();

/**
 * What was computed for an owner under a key, computed the first time only: the fields of a laboratory are the same in
 * thousands of its campaigns. The owner must not change, and the key must name everything else that the value hangs on.
 */
export function remembered<T>(owner: object, key: string, compute: () => T): T {
  let own = known.get(owner);
  if (own === undefined) {
    own = new Map();
    known.set(owner, own);
  }
  if (!own.has(key)) own.set(key, compute());
  return own.get(key) as T;
}
