/**
 * Where two values of JSON differ first, as keys with points between them; null where they are the same, numbers to the
 * last bit. The order of keys does not count.
 */
export function firstDifference(a: unknown, b: unknown, at = ""): string | null {
  if (Object.is(a, b)) return null;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return at;
  if (Array.isArray(a) !== Array.isArray(b)) return at;
  const [x, y] = [a as Record<string, unknown>, b as Record<string, unknown>];
  // what is absent and what is undefined are the same in JSON
  const keys = new Set([...Object.keys(x), ...Object.keys(y)].filter((key) => (x[key] ?? y[key]) !== undefined));
  for (const key of keys) {
    const found = firstDifference(x[key], y[key], at === "" ? key : `${at}.${key}`);
    if (found !== null) return found;
  }
  return null;
}
