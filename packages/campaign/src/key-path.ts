/** A place inside a JSON value: keys and list positions from the outside in. */
export type KeyPath = readonly (string | number)[];

/** As a JSON Pointer (RFC 6901): `/alcedo/detector/channels/1`. */
export function jsonPointer(path: KeyPath): string {
  return path.map((part) => `/${String(part).replace(/~/g, "~0").replace(/\//g, "~1")}`).join("");
}

/** For reading: `alcedo.detector.channels[1]`; the whole value is `the top level`. */
export function dotted(path: KeyPath): string {
  if (path.length === 0) return "the top level";
  let words = "";
  for (const part of path) {
    if (typeof part === "number") words += `[${part}]`;
    else words += words === "" ? part : `.${part}`;
  }
  return words;
}

/** The value at a path, `undefined` where there is none. Inherited properties are not looked at. */
export function valueAt(json: unknown, path: KeyPath): unknown {
  let value = json;
  for (const part of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, part)) return undefined;
    value = (value as Record<string | number, unknown>)[part];
  }
  return value;
}
